#include "journal/store.h"

#include <sys/stat.h>
#include <sys/statvfs.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cstring>
#include <thread>
#include <unordered_set>

#include "journal/big_endian.h"
#include "journal/impossible.h"
#include "journal/new_file.h"
#include "journal/page_search.h"
#include "journal/schema.h"
#include "record/encoding/entry_text.h"

namespace weighwright::journal {
namespace {

/// Errors that a damaged file can cause while the disk works.
bool is_of_file(const SqliteError& error) {
  constexpr std::array kCodes = {SQLITE_CORRUPT, SQLITE_NOTADB, SQLITE_ERROR,
                                 SQLITE_FORMAT,  SQLITE_TOOBIG, SQLITE_MISMATCH};
  return std::ranges::find(kCodes, error.primary()) != kCodes.end();
}

std::string expected_after(const SqliteError& error) {
  switch (error.primary()) {
    case SQLITE_FULL:
      return "make room on the disk, then do it again; what was recorded is safe";
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_CANTOPEN:
      return "a file and a directory that may be written";
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return "end the other program, then do it again";
    case SQLITE_IOERR:
      return "copy the file to another disk before going on";
    default:
      break;
  }
  return "verify tells what is damaged; rescue writes what is intact to a new file";
}

std::string what_of(const SqliteError& error) {
  const std::string reason = std::string(" (") + error.what() + ")";
  switch (error.primary()) {
    case SQLITE_FULL:
      return "the disk is full" + reason;
    case SQLITE_READONLY:
    case SQLITE_PERM:
      return "the journal is read-only" + reason;
    case SQLITE_CANTOPEN:
      return "the journal or its log can not be opened" + reason;
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return "another program has held the journal for more than " + std::to_string(kPatience_s) +
             " s" + reason;
    case SQLITE_IOERR:
      return "the disk reports an error" + reason;
    case SQLITE_NOMEM:
      return "there is not enough memory" + reason;
    default:
      break;
  }
  return "the file is damaged" + reason;
}

/// SQLite calls it an error of the disk when the index of its log finds no room: 32 kB, also for
/// who only reads.
bool is_full(const std::string& path) {
  constexpr std::uint64_t kIndex_bytes = 64 * 1024;
  struct statvfs room{};
  return ::statvfs(path.c_str(), &room) == 0 &&
         static_cast<std::uint64_t>(room.f_bavail) * room.f_frsize < kIndex_bytes;
}

std::string told(Outcome outcome) {
  switch (outcome) {
    case Outcome::recorded:
      return "; what was to be recorded is there all the same";
    case Outcome::unknown:
      return "; whether it was recorded could not be looked up";
    case Outcome::not_recorded:
      break;
  }
  return {};
}

units::Diagnostic no_journal(const std::string& path) {
  return {.file = path,
          .what = "it is no journal",
          .expected = "a file made by `job new` or `job import`"};
}

units::Diagnostic nothing_found(const std::string& path, const std::string& why) {
  return {.file = path,
          .what = "the file is damaged (" + why + "), and no entry was found in it",
          .expected = "a backup or an export of this journal"};
}

bool may_write(const std::string& path) {
  return ::access(path.c_str(), W_OK) == 0;
}

bool has_log(const std::string& path) {
  struct stat status{};
  return ::stat((path + "-wal").c_str(), &status) == 0 && status.st_size > 0;
}

/// A path as a URI of SQLite ("Uniform Resource Identifiers", section 3).
std::string uri_of(const std::string& path) {
  constexpr std::string_view kDigits = "0123456789ABCDEF";
  std::string uri = "file:";
  for (const char letter : path) {
    const auto code = static_cast<unsigned char>(letter);
    if (letter == '%' || letter == '?' || letter == '#') {
      uri += '%';
      uri += kDigits[code >> 4U];
      uri += kDigits[code & 0xFU];
    } else {
      uri += letter;
    }
  }
  return uri + "?immutable=1";
}

Problem of_file(ProblemKind kind, bool breaks, std::string what) {
  Problem problem;
  problem.kind = kind;
  problem.breaks = breaks;
  problem.what = std::move(what);
  return problem;
}

std::string names_of(const std::vector<LoadedEntry>& entries) {
  std::string names;
  for (const LoadedEntry& one : entries) {
    names += (names.empty() ? "" : ", ") + record::print_name(one.entry.stamp);
  }
  return names;
}

/// Adds found entries to those that were read, each once.
void unite(std::vector<LoadedEntry>& entries, FoundRows found) {
  std::unordered_set<std::string> intact;
  std::unordered_set<std::string> places;
  const auto place_of = [](const LoadedEntry& one) {
    return one.entry.stamp.device + "-" + std::to_string(one.entry.stamp.sequence);
  };
  for (const LoadedEntry& one : entries) {
    if (one.intact) intact.insert(one.entry.hash);
  }
  for (LoadedEntry& one : found.intact) {
    if (intact.insert(one.entry.hash).second) entries.push_back(std::move(one));
  }
  for (const LoadedEntry& one : entries) {
    if (one.intact) places.insert(place_of(one));
  }
  // A damaged row of which an intact copy was found is no loss.
  std::erase_if(entries, [&](const LoadedEntry& one) {
    return !one.intact && places.contains(place_of(one));
  });
  for (const LoadedEntry& one : entries) places.insert(place_of(one));
  for (LoadedEntry& one : found.damaged) {
    if (places.insert(place_of(one)).second) entries.push_back(std::move(one));
  }
}

/// Found entries of which nothing before is lost; the others are damaged as far as anybody is
/// concerned. @param found  in total order
FoundRows hanging_on(const std::vector<LoadedEntry>& entries,
                     const std::vector<LoadedEntry>& found) {
  std::unordered_set<std::string> there;
  for (const LoadedEntry& one : entries) {
    if (one.intact) there.insert(one.entry.hash);
  }
  FoundRows rows;
  for (LoadedEntry one : found) {
    const bool first = one.entry.stamp.sequence == 1;
    if (first || there.contains(one.entry.previous)) {
      there.insert(one.entry.hash);
      rows.intact.push_back(std::move(one));
      continue;
    }
    one.intact = false;
    one.problem_kind = ProblemKind::missing;
    one.problem = "the entry before it in its chain is lost in the damaged end of the log";
    rows.damaged.push_back(std::move(one));
  }
  return rows;
}

/// The number that an entry chain_closed names.
void note_closed(Database& database, std::int64_t position, ClosedChains& closed) {
  Statement find = database.prepare("SELECT content FROM entries WHERE position = ?");
  if (!find.bind(1, position).step()) return;
  const record::ParsedContent parsed = record::parse_content(find.bytes(0));
  if (parsed.entry) {
    closed.emplace(record::field(parsed.entry->what.fields, "device"), parsed.entry->key);
  }
}

}  // namespace

Row row_of(const LoadedEntry& loaded) {
  return {.content = loaded.content,
          .previous = parse_hex(loaded.entry.previous).value_or(HashBytes{}),
          .hash = parse_hex(loaded.entry.hash).value_or(HashBytes{}),
          .signature = loaded.signature};
}

StorageFailure Journal::Store::failure(const SqliteError& error, Outcome outcome) const {
  if (error.primary() == SQLITE_IOERR && is_full(path_)) {
    return StorageFailure(
        {.file = path_,
         .what = "the disk is full, and even to read a journal some room is needed" + told(outcome),
         .expected = "make room on the disk (1 MB will do), then do it again; what "
                     "was recorded is safe"},
        outcome);
  }
  return StorageFailure(
      {.file = path_, .what = what_of(error) + told(outcome), .expected = expected_after(error)},
      outcome);
}

std::unique_ptr<Database> Journal::Store::connect() const {
  // Reading too is done with the right to write where there is one, so that no log is left behind;
  // not where the log holds something that closing would do away with.
  const bool read_only = access_ == Access::read && (!may_write(path_) || log_.cut());
  try {
    auto database =
        std::make_unique<Database>(path_, read_only ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE);
    if (access_ == Access::read) database->run("PRAGMA query_only = ON");
    (void)database->whole("PRAGMA schema_version");
    return database;
  } catch (const SqliteError& error) {
    const bool no_log_possible =
        error.primary() == SQLITE_CANTOPEN || error.primary() == SQLITE_READONLY;
    if (access_ == Access::write || !no_log_possible || has_log(path_)) throw;
  }
  // A directory that can not be written, and nothing in a log: the file alone is everything.
  return std::make_unique<Database>(uri_of(path_), SQLITE_OPEN_READONLY | SQLITE_OPEN_URI);
}

void Journal::Store::inspect_before_opening() {
  // Only the log: opening and closing the file itself would drop the locks that this process may
  // hold on it (SQLite's "How To Corrupt An SQLite Database File", section 2.2).
  constexpr int kLooks = 5;
  constexpr auto kPause = std::chrono::milliseconds(2);
  for (int look = 0; look < kLooks; ++look) {
    const std::string bytes = read_bytes(path_ + "-wal").value_or(std::string());
    log_ = inspect_log(bytes);
    if (!log_.unfinished && !log_.cut()) return;
    // Somebody may be writing at this very moment; what stays as it is was left so.
    std::this_thread::sleep_for(kPause);
    if (read_bytes(path_ + "-wal").value_or(std::string()) == bytes) return;
  }
  log_ = {};
}

units::Diagnostics Journal::Store::open() {
  struct stat status{};
  if (::stat(path_.c_str(), &status) != 0) {
    return {{.file = path_, .what = "there is no such file", .expected = "the name of a journal"}};
  }
  if (!S_ISREG(status.st_mode)) return {no_journal(path_)};
  remarks_.clear();
  try {
    inspect_before_opening();
    units::Diagnostics faults = refuse_damaged_tail();
    if (!faults.empty()) return faults;
    database_ = connect();
    faults = examine();
    // Without a connection entries are searched for, in the log too.
    if (!faults.empty() || !database_) return faults;
    tell_tail();
    return {};
  } catch (const SqliteError& error) {
    database_.reset();
    const bool unreachable_log = access_ == Access::read && error.primary() == SQLITE_CANTOPEN;
    if (is_of_file(error) || unreachable_log) return fall_back(error.what());
    throw failure(error, Outcome::not_recorded);
  }
}

units::Diagnostics Journal::Store::examine() {
  const std::int64_t version = schema_version(*database_);
  if (database_->whole("PRAGMA application_id") != kApplicationId || version < 1) {
    database_.reset();
    return fall_back("its header is not that of a journal");
  }
  if (version > kSchemaVersion) {
    return {{.file = path_,
             .what = "it was made by a later version of this program (schema " +
                     std::to_string(version) + ", this one knows " +
                     std::to_string(kSchemaVersion) + ")",
             .expected = "a newer version of the program; the file was not touched"}};
  }
  version_ = version;
  if (access_ == Access::read) return {};
  if (sqlite3_db_readonly(database_->get(), "main") == 1) {
    throw StorageFailure({.file = path_,
                          .what = "the journal is read-only",
                          .expected = "a file and a directory that may be written"});
  }
  const std::string fault = fault_of_durability(*database_);
  if (!fault.empty()) {
    throw StorageFailure({.file = path_,
                          .what = "nothing is written to it: " + fault,
                          .expected = "a disk on which SQLite can keep a write-ahead log"});
  }
  migrate(*database_);
  version_ = kSchemaVersion;
  return {};
}

units::Diagnostics Journal::Store::fall_back(const std::string& why) {
  salvaged_ = true;
  why_salvaged_ = why;
  std::vector<LoadedEntry> found;
  search_all(found, false);
  if (found.empty()) return {is_called_journal() ? nothing_found(path_, why) : no_journal(path_)};
  if (access_ == Access::write) {
    return {
        {.file = path_,
         .what = "the file is damaged (" + why + "); " + std::to_string(found.size()) +
                 " of its entries were found by searching",
         .expected = "verify tells what is damaged; rescue writes what is intact to a new file"}};
  }
  remarks_.push_back(of_file(ProblemKind::pages, true,
                             "SQLite can not read the file (" + why +
                                 "); its entries were found by searching it page by page"));
  return {};
}

void Journal::Store::look_for_tail(Database& database) {
  if (log_.rescued.empty() && log_.doubtful.empty()) return;
  std::unordered_set<std::string> hashes;
  std::unordered_set<std::string> places;
  for_each_row(database, [&](const RowView& row) {
    hashes.emplace(row.hash);
    places.insert(std::string(row.device) + "-" + std::to_string(row.sequence));
  });
  std::erase_if(log_.rescued, [&](const LoadedEntry& one) {
    const auto hash = parse_hex(one.entry.hash);
    return hash && hashes.contains(std::string(view(*hash)));
  });
  std::erase_if(log_.doubtful, [&](const LoadedEntry& one) {
    const record::Stamp& stamp = one.entry.stamp;
    return places.contains(stamp.device + "-" + std::to_string(stamp.sequence));
  });
  put_in_order(log_.rescued);
}

units::Diagnostics Journal::Store::refuse_damaged_tail() {
  if (access_ == Access::read || !log_.cut()) return {};
  // Whoever may write makes SQLite take the log up to the damage and forget the rest.
  Database database(path_, SQLITE_OPEN_READONLY);
  look_for_tail(database);
  if (!log_.holds_more()) return {};
  return {{.file = path_,
           .what = "nothing is written to it: its log ends in a transaction that is damaged, and "
                   "would be written over" +
                   (log_.rescued.empty() ? std::string()
                                         : "; found intact in it: " + names_of(log_.rescued)),
           .expected = "`job rescue` to a new file brings over everything that is intact; go on "
                       "with that one"}};
}

void Journal::Store::tell_tail() {
  look_for_tail(*database_);
  if (log_.holds_more()) {
    std::string what =
        log_.surely_damaged()
            ? "the end of the log is damaged"
            : "the last transaction in the log is damaged: either the power failed while it was "
              "written, and it was never confirmed, or it was damaged since";
    if (!log_.rescued.empty()) what += "; found intact in it: " + names_of(log_.rescued);
    if (!log_.doubtful.empty()) what += "; damaged in it: " + names_of(log_.doubtful);
    what +=
        "; nothing is written to this file until `job rescue` has brought what is intact to a "
        "new one";
    remarks_.push_back(of_file(ProblemKind::log_end, true, std::move(what)));
    return;
  }
  if (!log_.unfinished) return;
  remarks_.push_back(of_file(
      ProblemKind::log_end, false,
      "the log ends in something unfinished, which holds no entry that is not there: the power "
      "failed or the program ended while it was written, and it was never confirmed"));
}

Database& Journal::Store::connected() {
  if (database_) return *database_;
  if (salvaged_) {
    throw StorageFailure({.file = path_,
                          .what = "the file is damaged (" + why_salvaged_ + ")",
                          .expected = "rescue writes what is intact to a new file"});
  }
  // It was closed after an error of the disk.
  const units::Diagnostics faults = open();
  if (!faults.empty()) throw StorageFailure(faults.front(), Outcome::not_recorded);
  return connected();
}

void Journal::Store::ask(const std::function<void(Database&)>& work) {
  Database& database = connected();
  try {
    work(database);
  } catch (const SqliteError& error) {
    throw failure(error, Outcome::not_recorded);
  }
}

void Journal::Store::change(const std::function<void(Database&)>& work,
                            const std::vector<HashBytes>& hashes) {
  change([&](Database& database, std::vector<HashBytes>& told_hashes) {
    told_hashes = hashes;
    work(database);
  });
}

void Journal::Store::change(const std::function<void(Database&, std::vector<HashBytes>&)>& work) {
  Database& database = connected();
  std::vector<HashBytes> hashes;
  try {
    Transaction transaction(database);
    work(database, hashes);
    transaction.commit();
  } catch (const SqliteError& error) {
    const bool of_disk = error.primary() == SQLITE_IOERR || error.primary() == SQLITE_FULL;
    const Outcome outcome = of_disk ? look_again(hashes) : Outcome::not_recorded;
    throw failure(error, outcome);
  }
}

Outcome Journal::Store::look_again(const std::vector<HashBytes>& hashes) {
  // After an error of the disk at COMMIT nobody knows what is on it until it was opened again.
  database_.reset();
  state_ = {};
  try {
    const units::Diagnostics faults = open();
    if (!faults.empty() || !database_) return Outcome::unknown;
    Statement find = database_->prepare("SELECT 1 FROM entries NOT INDEXED WHERE hash = ?");
    for (const HashBytes& hash : hashes) {
      find.reset();
      if (!find.bind_bytes(1, view(hash)).step()) return Outcome::not_recorded;
    }
    return hashes.empty() ? Outcome::not_recorded : Outcome::recorded;
  } catch (const SqliteError&) {
    database_.reset();
  } catch (const StorageFailure&) {
    database_.reset();
  }
  return hashes.empty() ? Outcome::not_recorded : Outcome::unknown;
}

const Journal::Store::State& Journal::Store::state(Database& database) {
  Statement rows = database.prepare(
      "SELECT position, device, sequence, lamport, hash, previous, kind FROM entries NOT INDEXED "
      "WHERE position > ? ORDER BY position");
  rows.bind(1, state_.position);
  while (rows.step()) {
    state_.large |= rows.whole(2) > kMostCounted || rows.whole(3) > kMostCounted;
    if (rows.bytes(6) == kChainClosed) note_closed(database, rows.whole(0), state_.closed);
    const auto hash = hash_of_bytes(rows.bytes(4));
    const auto previous = hash_of_bytes(rows.bytes(5));
    if (hash && previous) {
      state_.heads.add(rows.bytes(1), rows.whole(2), print_hex(*hash), print_hex(*previous));
    }
    state_.lamport = std::max(state_.lamport, rows.whole(3));
    state_.position = rows.whole(0);
  }
  return state_;
}

bool Journal::Store::has_attachments() const {
  return !salvaged_ && version_ >= kVersionWithAttachments;
}

void Journal::Store::read_all(std::vector<LoadedEntry>& entries, bool with_content) {
  // One snapshot for both questions.
  database_->run("BEGIN");
  try {
    const std::int64_t count = database_->whole("SELECT count(*) FROM entries");
    entries.reserve(static_cast<std::size_t>(std::clamp<std::int64_t>(count, 0, 1'000'000)));
    for_each_row(*database_, [&](const RowView& row) {
      entries.push_back(check_row(row));
      if (with_content && entries.back().intact) entries.back().content = row.content;
    });
    // The index counts on its own: rows that a damaged tree no longer leads to are noticed here.
    if (count != static_cast<std::int64_t>(entries.size())) {
      throw SqliteError(SQLITE_CORRUPT, "table and index of entries differ");
    }
  } catch (...) {
    sqlite3_exec(database_->get(), "ROLLBACK", nullptr, nullptr, nullptr);
    throw;
  }
  database_->run("COMMIT");
}

std::vector<LoadedEntry> Journal::Store::load(const Wanted& wanted) {
  std::vector<LoadedEntry> entries;
  if (!salvaged_) (void)connected();
  if (database_) {
    try {
      read_all(entries, wanted.content);
    } catch (const SqliteError& error) {
      if (!is_of_file(error)) throw failure(error, Outcome::not_recorded);
      search_all(entries, wanted.content);
    }
  } else {
    search_all(entries, wanted.content);
  }
  // One transaction behind the damage may be one that was never confirmed, or half of it.
  if (log_.surely_damaged()) {
    unite(entries, {.intact = log_.rescued, .damaged = {}});
  } else if (wanted.unconfirmed) {
    unite(entries, hanging_on(entries, log_.rescued));
  }
  put_in_order(entries);
  mark_forged(entries, wanted.signatures);
  return entries;
}

std::string Journal::Store::bytes_of_file() {
  if (!database_) return read_bytes(path_).value_or(std::string());
  // Through SQLite's own handle, which keeps the locks.
  sqlite3_file* file = nullptr;
  sqlite3_file_control(database_->get(), "main", SQLITE_FCNTL_FILE_POINTER,
                       static_cast<void*>(&file));
  sqlite3_int64 size = 0;
  std::string bytes;
  if (file == nullptr || file->pMethods == nullptr) return bytes;
  if (file->pMethods->xFileSize(file, &size) != SQLITE_OK) return bytes;
  bytes.resize(static_cast<std::size_t>(size));
  constexpr std::size_t kPiece_bytes = 1 << 20;
  for (std::size_t at = 0; at < bytes.size(); at += kPiece_bytes) {
    const std::size_t piece = std::min(kPiece_bytes, bytes.size() - at);
    const int code = file->pMethods->xRead(file, bytes.data() + at, static_cast<int>(piece),
                                           static_cast<sqlite3_int64>(at));
    if (code != SQLITE_OK) std::memset(bytes.data() + at, 0, piece);
  }
  return bytes;
}

bool Journal::Store::is_called_journal() {
  // SQLite's "Database File Format", section 1.3.16.
  constexpr std::size_t kPlace = 68;
  const std::string file = bytes_of_file();
  return file.size() >= kPlace + 4 && big_endian_32(file, kPlace) == kApplicationId;
}

void Journal::Store::search_all(std::vector<LoadedEntry>& entries, bool with_content) {
  const std::string file = bytes_of_file();
  const std::string log = read_bytes(path_ + "-wal").value_or(std::string());
  std::vector<PageImage> pages = pages_of_log(log);
  const std::vector<PageImage> of_file_pages = pages_of_file(file);
  pages.insert(pages.end(), of_file_pages.begin(), of_file_pages.end());
  unite(entries, find_rows(pages, pages));
  if (!with_content) {
    for (LoadedEntry& one : entries) one.content.clear();
  }
  put_in_order(entries);
}

void Journal::Store::check_file(std::vector<Problem>& problems) {
  problems.insert(problems.end(), remarks_.begin(), remarks_.end());
  if (!database_) return;
  try {
    Statement check = database_->prepare("PRAGMA integrity_check(20)");
    while (check.step()) {
      const std::string line(check.bytes(0));
      if (line != "ok") {
        problems.push_back(of_file(ProblemKind::pages, true, "the file is damaged: " + line));
      }
    }
    const int missing = count_missing_guards(*database_);
    if (missing != 0) {
      problems.push_back(of_file(ProblemKind::guard_gone, true,
                                 "the triggers that refuse changes are not those of a journal: "
                                 "somebody has worked on the file with another program"));
    }
    check_attachments(problems);
  } catch (const SqliteError& error) {
    if (!is_of_file(error)) throw failure(error, Outcome::not_recorded);
    problems.push_back(of_file(ProblemKind::pages, true, what_of(error)));
  }
}

void Journal::Store::check_attachments(std::vector<Problem>& problems) {
  if (!has_attachments()) return;
  Statement rows = database_->prepare("SELECT hash, bytes FROM attachments NOT INDEXED");
  while (rows.step()) {
    const auto hash = hash_of_bytes(rows.bytes(0));
    if (hash && attachment_hash(rows.bytes(1)) == *hash) continue;
    problems.push_back(of_file(ProblemKind::photo_damaged, true,
                               "the bytes of attachment " +
                                   (hash ? print_hex(*hash) : std::string("?")) +
                                   " are not those that were kept"));
  }
}

Opened StoreAccess::create_with(const std::string& path,
                                const std::vector<Row>& rows,
                                const std::vector<Attachment>& attachments) {
  if (auto fault = fault_of_new(path)) return {.journal = nullptr, .faults = {*fault}};
  NewFile file(path);
  try {
    Database database(file.temporary(), SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE);
    make_schema(database);
  } catch (const SqliteError& error) {
    throw StorageFailure({.file = path, .what = what_of(error), .expected = expected_after(error)});
  }
  if (!rows.empty() || !attachments.empty()) {
    Opened filled = Journal::open(file.temporary(), Access::write);
    if (!filled.journal) return filled;
    bring(*filled.journal, rows, attachments);
  }
  if (auto fault = file.publish()) return {.journal = nullptr, .faults = {*fault}};
  return Journal::open(path, Access::write);
}

StoreAccess::Brought StoreAccess::bring(Journal& journal,
                                        const std::vector<Row>& rows,
                                        const std::vector<Attachment>& attachments) {
  Brought brought;
  std::vector<HashBytes> hashes;
  hashes.reserve(rows.size());
  for (const Row& row : rows) hashes.push_back(row.hash);
  store(journal).change(
      [&](Database& database) {
        brought.rows = insert_rows(database, rows);
        Statement insert =
            database.prepare("INSERT OR IGNORE INTO attachments (hash, bytes) VALUES (?, ?)");
        for (const Attachment& one : attachments) {
          insert.reset();
          insert.bind_bytes(1, view(one.hash)).bind_bytes(2, one.bytes).step();
          brought.attachments += sqlite3_changes64(database.get());
        }
      },
      hashes);
  return brought;
}

}  // namespace weighwright::journal
