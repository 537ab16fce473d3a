#include <memory>

#include "journal/new_file.h"
#include "journal/store.h"

namespace weighwright::journal {
namespace {

struct Finish {
  void operator()(sqlite3_backup* backup) const { sqlite3_backup_finish(backup); }
};

void copy_pages(Database& from, Database& to) {
  constexpr int kAllPages = -1;
  const std::unique_ptr<sqlite3_backup, Finish> backup(
      sqlite3_backup_init(to.get(), "main", from.get(), "main"));
  const int code = backup ? sqlite3_backup_step(backup.get(), kAllPages) : SQLITE_ERROR;
  if (code != SQLITE_DONE) throw SqliteError(code, sqlite3_errmsg(to.get()));
}

units::Diagnostic not_equal(const std::string& path) {
  return {.file = path,
          .what = "the copy was read again and is not like the journal",
          .expected = "another disk: this one does not keep what is written to it"};
}

}  // namespace

units::Diagnostics Journal::backup(const std::string& path) {
  if (auto fault = fault_of_new(path)) return {*fault};
  const Verification own = verify();
  NewFile file(path);
  try {
    store_->ask([&](Database& database) {
      Database copy(file.temporary(), SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE);
      copy.run("PRAGMA synchronous = FULL");
      copy_pages(database, copy);
    });
  } catch (const StorageFailure& failure) {
    units::Diagnostic told = failure.diagnostic();
    told.what = "while it was copied to " + path + ": " + told.what;
    throw StorageFailure(told);
  }
  if (auto fault = file.publish()) return {*fault};
  Opened again = Journal::open(path, Access::read);
  if (!again.journal) return again.faults;
  const Verification copied = again.journal->verify(own.heads);
  // Another program may have written between the two; then the copy has more.
  if (copied.count < own.count || copied.whole() != own.whole())
    throw StorageFailure(not_equal(path));
  return {};
}

}  // namespace weighwright::journal
