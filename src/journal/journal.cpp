#include "journal/journal.h"

#include <algorithm>
#include <set>

#include "journal/new_file.h"
#include "journal/store.h"
#include "record/encoding/entry_reader.h"
#include "record/encoding/entry_text.h"
#include "record/encoding/instant.h"

namespace weighwright::journal {
namespace {

constexpr std::size_t kLongestAuthor_bytes = 200;

void check_identity(const Identity& identity, units::Diagnostics& faults) {
  if (!record::is_device(identity.device)) {
    faults.push_back({.file = {},
                      .what = "the device is " + units::quote(identity.device),
                      .expected = "16 lower-case hex digits"});
  }
  if (!units::is_utf8(identity.author) || identity.author.size() > kLongestAuthor_bytes) {
    faults.push_back({.file = {},
                      .what = "the author is no UTF-8 text of at most 200 bytes",
                      .expected = "a name"});
  }
}

void check_moment(const Moment& moment, units::Diagnostics& faults) {
  if (moment.time_ms < record::kFirstInstant_ms || moment.time_ms > record::kLastInstant_ms) {
    faults.push_back({.file = {},
                      .what = "the clock says a year before 1970 or after 9999",
                      .expected = "a clock that is set"});
  }
  if (std::abs(moment.offset_min) > record::kLargestOffset_min) {
    faults.push_back({.file = {},
                      .what = "local time is more than 18 hours off UTC",
                      .expected = "an offset within 18 hours"});
  }
}

/// Hashes of earlier entries that a draft names.
std::vector<std::pair<std::string_view, std::string_view>> named_by(const record::Draft& draft) {
  std::vector<std::pair<std::string_view, std::string_view>> named;
  if (!draft.corrects.empty()) named.emplace_back("corrects", draft.corrects);
  if (draft.kind == "undo") named.emplace_back("of", record::field(draft.fields, "of"));
  return named;
}

void check_named(Database& database, const record::Draft& draft, units::Diagnostics& faults) {
  for (const auto& [key, text] : named_by(draft)) {
    const std::optional<HashBytes> hash = parse_hex(text);
    bool there = false;
    if (hash) {
      Statement find = database.prepare("SELECT 1 FROM entries NOT INDEXED WHERE hash = ?");
      there = find.bind_bytes(1, view(*hash)).step();
    }
    if (!there) {
      faults.push_back({.file = {},
                        .what = "no entry of this journal has the hash " + units::quote(text) +
                                " (" + std::string(key) + ")",
                        .expected = "the hash of an entry, 64 hex digits"});
    }
  }
}

units::Diagnostics faults_of(const Identity& identity,
                             const std::vector<record::Draft>& drafts,
                             const Moment& moment) {
  units::Diagnostics faults;
  check_identity(identity, faults);
  check_moment(moment, faults);
  for (const record::Draft& draft : drafts) {
    for (std::string& what : record::faults_of(draft))
      faults.push_back({.file = {}, .what = std::move(what), .expected = {}});
  }
  return faults;
}

/// The next entries of a chain.
class Chaining {
 public:
  Chaining(const Identity& identity, const Moment& moment) : moment_(moment) {
    stamp_.device = identity.device;
    stamp_.author = identity.author;
  }

  void start(const std::vector<record::Head>& heads, std::int64_t lamport) {
    stamp_.lamport = lamport;
    const record::Head* own = nullptr;
    for (const record::Head& head : heads) {
      // Of a chain that forked, the longest way goes on.
      if (head.device != stamp_.device) continue;
      if (own == nullptr || head.sequence > own->sequence) own = &head;
    }
    for (const record::Head& head : heads) {
      if (&head != own) seen_.push_back(head);
    }
    if (own == nullptr) return;
    stamp_.sequence = own->sequence;
    previous_ = own->hash;
  }

  std::pair<record::Entry, Row> next(const record::Draft& draft) {
    record::Entry entry;
    ++stamp_.sequence;
    ++stamp_.lamport;
    entry.stamp = stamp_;
    entry.stamp.time_ms = moment_.time_ms;
    entry.stamp.offset_min = moment_.offset_min;
    entry.seen = seen_;
    entry.what = draft;
    entry.previous = previous_;
    Row row;
    row.content = record::print_content(entry);
    row.previous = parse_hex(previous_).value_or(HashBytes{});
    row.hash = entry_hash(row.content, row.previous);
    entry.hash = print_hex(row.hash);
    previous_ = entry.hash;
    return {std::move(entry), std::move(row)};
  }

 private:
  record::Stamp stamp_;
  Moment moment_;
  std::vector<record::Head> seen_;
  std::string previous_ = std::string(64, '0');
};

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
  Appended appended;
  appended.faults = faults_of(identity, drafts, moment);
  if (store_->access() == Access::read) {
    appended.faults.push_back(
        {.file = path(), .what = "the journal was opened for reading", .expected = {}});
  }
  if (!appended.faults.empty() || drafts.empty()) return appended;
  store_->change([&](Database& database, std::vector<HashBytes>& hashes) {
    for (const record::Draft& draft : drafts) check_named(database, draft, appended.faults);
    const Store::State& state = store_->state(database);
    if (state.lamport > record::kLargestWhole - static_cast<std::int64_t>(drafts.size())) {
      appended.faults.push_back({.file = path(),
                                 .what = "an entry has an order number that leaves none after it",
                                 .expected = "verify tells which"});
    }
    if (!appended.faults.empty()) return;
    Chaining chain(identity, moment);
    chain.start(state.heads.list(), state.lamport);
    std::vector<Row> rows;
    for (const record::Draft& draft : drafts) {
      auto [entry, row] = chain.next(draft);
      appended.entries.push_back(std::move(entry));
      hashes.push_back(row.hash);
      rows.push_back(std::move(row));
    }
    if (insert_rows(database, rows) != static_cast<std::int64_t>(rows.size())) {
      throw SqliteError(SQLITE_CORRUPT, "an entry that was to be recorded is there already");
    }
  });
  return appended;
}

std::vector<LoadedEntry> Journal::entries() {
  return store_->load(false);
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
  const std::vector<LoadedEntry> all = store_->load(false);
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
