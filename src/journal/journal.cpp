#include "journal/journal.h"

#include <algorithm>

#include "journal/impossible.h"
#include "journal/new_file.h"
#include "journal/store.h"

namespace weighwright::journal {
namespace {

void check_photos(const std::vector<LoadedEntry>& entries,
                  const std::vector<std::string>& kept,
                  std::vector<Problem>& problems) {
  for (const LoadedEntry& one : entries) {
    if (!one.intact || one.entry.what.kind != "photo") continue;
    const std::string hash{record::field(one.entry.what.fields, "blake2b")};
    if (std::ranges::binary_search(kept, hash)) continue;
    problems.push_back({.kind = ProblemKind::photo_absent,
                        .breaks = false,
                        .name = record::print_name(one.entry.stamp),
                        .sequence = one.entry.stamp.sequence,
                        .time_ms = one.entry.stamp.time_ms,
                        .what = "its photo is not in this file"});
  }
}

}  // namespace

Journal::Journal(std::unique_ptr<Store> store) : store_(std::move(store)) {}
Journal::~Journal() = default;

const std::string& Journal::path() const {
  return store_->path();
}

const std::vector<Problem>& Journal::remarks() const {
  return store_->remarks();
}

bool Journal::salvaged() const {
  return store_->salvaged();
}

bool Verification::whole() const {
  return std::ranges::none_of(problems, &Problem::breaks);
}

Opened Journal::create(const std::string& path) {
  return StoreAccess::create_with(path, {}, {});
}

Opened Journal::open(const std::string& path, Access access) {
  auto store = std::make_unique<Store>(path, access);
  units::Diagnostics faults = store->open();
  if (!faults.empty()) return {.journal = nullptr, .faults = std::move(faults)};
  return {.journal = std::unique_ptr<Journal>(new Journal(std::move(store))), .faults = {}};
}

Appended Journal::append(const Identity& identity,
                         const std::vector<record::Draft>& drafts,
                         const Moment& moment) {
  return StoreAccess::append(*store_, identity, drafts, moment);
}

std::vector<LoadedEntry> Journal::entries() {
  return store_->load({});
}

std::vector<record::Head> Journal::heads() {
  if (salvaged()) return heads_of(entries());
  std::vector<record::Head> heads;
  store_->ask([&](Database& database) { heads = store_->state(database).heads.list(); });
  return heads;
}

std::string Journal::attach(std::string_view bytes) {
  const HashBytes hash = attachment_hash(bytes);
  StoreAccess::bring(*this, {}, {{.hash = hash, .bytes = std::string(bytes)}});
  return print_hex(hash);
}

std::optional<std::string> Journal::attachment(const std::string& hash) {
  const std::optional<HashBytes> wanted = parse_hex(hash);
  std::optional<std::string> bytes;
  if (!wanted || !store_->has_attachments()) return bytes;
  store_->ask([&](Database& database) {
    Statement find = database.prepare("SELECT bytes FROM attachments WHERE hash = ?");
    if (find.bind_bytes(1, view(*wanted)).step()) bytes = std::string(find.bytes(0));
  });
  if (bytes && attachment_hash(*bytes) != *wanted) bytes.reset();  // verify names it
  return bytes;
}

std::vector<std::string> Journal::attachments() {
  std::vector<std::string> hashes;
  if (!store_->has_attachments()) return hashes;
  store_->ask([&](Database& database) {
    Statement all = database.prepare("SELECT hash FROM attachments ORDER BY hash");
    while (all.step()) {
      if (const auto hash = hash_of_bytes(all.bytes(0))) hashes.push_back(print_hex(*hash));
    }
  });
  return hashes;
}

Verification Journal::verify(const std::vector<record::Head>& expected) {
  Verification verification;
  const std::vector<LoadedEntry> all = store_->load({.signatures = Signatures::every});
  store_->check_file(verification.problems);
  const std::vector<Problem> of_chains = problems_of(all, expected);
  verification.problems.insert(verification.problems.end(), of_chains.begin(), of_chains.end());
  // What is damaged in the attachments' table is told by check_file.
  try {
    check_photos(all, attachments(), verification.problems);
  } catch (const StorageFailure&) {
    if (verification.whole()) throw;
  }
  verification.heads = heads_of(all);
  verification.count = std::ranges::count_if(all, &LoadedEntry::intact);
  return verification;
}

}  // namespace weighwright::journal
