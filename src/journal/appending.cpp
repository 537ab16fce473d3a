// The next entries of a chain: under which number, after which entries, signed.

#include <algorithm>
#include <set>

#include "journal/impossible.h"
#include "journal/new_file.h"
#include "journal/signature.h"
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
  if (moment.time_ms < record::kFirstInstant_ms || moment.time_ms >= kLastPlausible_ms) {
    faults.push_back({.file = {},
                      .what = "the clock says a year before 1970 or after 2199",
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

/// What the next entry follows.
struct Standing {
  std::vector<record::Head> heads;
  std::int64_t lamport = 0;
};

/// Without the entries whose numbers leave none after them; only where there is such a one all are
/// read.
template <class State>
Standing standing_of(Database& database, const State& state) {
  if (!state.large) return {.heads = state.heads.list(), .lamport = state.lamport};
  std::vector<LoadedEntry> entries;
  for_each_row(database, [&](const RowView& row) { entries.push_back(check_row(row)); });
  put_in_order(entries);
  const auto impossible = impossible_of(entries);
  std::erase_if(entries, [&](const LoadedEntry& one) {
    const auto found = impossible.find(one.entry.hash);
    return !one.intact || (found != impossible.end() && found->second.blocks);
  });
  Standing standing{.heads = heads_of(entries), .lamport = 0};
  for (const LoadedEntry& one : entries) {
    standing.lamport = std::max(standing.lamport, one.entry.stamp.lamport);
  }
  return standing;
}

/// The key that signs a head; empty: it is not signed.
std::string key_of(Database& database, const record::Head& head) {
  Statement find = database.prepare(
      "SELECT content FROM entries WHERE device = ? AND sequence = ? AND hash = ?");
  const std::optional<HashBytes> hash = parse_hex(head.hash);
  if (!hash) return {};
  find.bind_text(1, head.device).bind(2, head.sequence).bind_bytes(3, view(*hash));
  if (!find.step()) return {};
  const record::ParsedContent parsed = record::parse_content(find.bytes(0));
  return parsed.entry ? parsed.entry->key : std::string();
}

/// Chooses the number to write under.
class Numbering {
 public:
  Numbering(Database& database, const Standing& standing, const ClosedChains& closed)
      : database_(database), standing_(standing), closed_(closed) {}

  /// Empty: there is none, for want of the key.
  [[nodiscard]] std::string number_for(const Identity& identity) const {
    if (!identity.key) return is_signed_chain(identity.device) ? "" : identity.device;
    const std::string key = public_key_of(*identity.key);
    std::string number = identity.device;
    // It ends: each number that is closed has a chain, or is named as closed by this very device.
    while (is_closed(number, key)) number = next_number(number, key);
    return number;
  }

 private:
  [[nodiscard]] std::vector<record::Head> heads_under(const std::string& number) const {
    std::vector<record::Head> heads;
    std::ranges::copy_if(standing_.heads, std::back_inserter(heads),
                         [&](const record::Head& head) { return head.device == number; });
    return heads;
  }
  [[nodiscard]] bool is_signed_chain(const std::string& number) const {
    return std::ranges::any_of(heads_under(number), [&](const record::Head& head) {
      return !key_of(database_, head).empty();
    });
  }
  [[nodiscard]] bool is_closed(const std::string& number, const std::string& key) const {
    if (closed_.contains({number, key})) return true;
    const std::vector<record::Head> heads = heads_under(number);
    if (heads.empty()) return false;
    if (heads.size() > 1) return true;  // a copy was worked on under the same number
    const std::string signs = key_of(database_, heads.front());
    return !signs.empty() && signs != key;
  }

  Database& database_;
  const Standing& standing_;
  const ClosedChains& closed_;
};

/// The next entries of a chain.
class Chaining {
 public:
  Chaining(const Identity& identity, const Moment& moment) : key_(identity.key), moment_(moment) {
    stamp_.device = identity.device;
    stamp_.author = identity.author;
    if (key_) public_key_ = public_key_of(*key_);
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
    entry.key = public_key_;
    Row row;
    row.content = record::print_content(entry);
    row.previous = parse_hex(previous_).value_or(HashBytes{});
    row.hash = entry_hash(row.content, row.previous);
    if (key_) row.signature = sign(*key_, row.hash);
    entry.hash = print_hex(row.hash);
    previous_ = entry.hash;
    return {std::move(entry), std::move(row)};
  }

 private:
  std::optional<KeySeed> key_;
  std::string public_key_;
  record::Stamp stamp_;
  Moment moment_;
  std::vector<record::Head> seen_;
  std::string previous_ = std::string(64, '0');
};

}  // namespace

Appended StoreAccess::append(Journal::Store& store,
                             const Identity& identity,
                             const std::vector<record::Draft>& drafts,
                             const Moment& moment,
                             const ClosedChains& closed) {
  Appended appended;
  appended.faults = faults_of(identity, drafts, moment);
  if (store.access() == Access::read) {
    appended.faults.push_back(
        {.file = store.path(), .what = "the journal was opened for reading", .expected = {}});
  }
  if (!appended.faults.empty() || drafts.empty()) return appended;
  store.change([&](Database& database, std::vector<HashBytes>& hashes) {
    for (const record::Draft& draft : drafts) check_named(database, draft, appended.faults);
    const Journal::Store::State& state = store.state(database);
    ClosedChains all_closed = state.closed;
    all_closed.insert(closed.begin(), closed.end());
    const Standing standing = standing_of(database, state);
    Identity writing = identity;
    writing.device = Numbering(database, standing, all_closed).number_for(identity);
    if (writing.device.empty()) {
      appended.faults.push_back({.file = store.path(),
                                 .what = "the chain of device " + identity.device +
                                         " can not be gone on with: it is signed, and the key is "
                                         "not here",
                                 .expected = "the key of that device, or another device number"});
    }
    if (!appended.faults.empty()) return;
    Chaining chain(writing, moment);
    chain.start(standing.heads, standing.lamport);
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

std::vector<std::string> numbers_of(const Identity& identity,
                                    const std::set<std::string>& devices) {
  std::vector<std::string> numbers = {identity.device};
  if (!identity.key) return numbers;
  const std::string key = public_key_of(*identity.key);
  while (devices.contains(numbers.back()) && numbers.size() <= devices.size()) {
    numbers.push_back(next_number(numbers.back(), key));
  }
  return numbers;
}

}  // namespace weighwright::journal
