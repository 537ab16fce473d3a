#include "journal/rows.h"

#include <algorithm>
#include <cstring>

#include "journal/schema.h"
#include "record/encoding/entry_text.h"

namespace weighwright::journal {
namespace {

bool is_zero(std::string_view bytes) {
  return std::ranges::all_of(bytes, [](char byte) { return byte == '\0'; });
}

/// Nothing of the content is to be believed: what the columns say, for a name.
LoadedEntry damaged(const RowView& row, ProblemKind kind, std::string problem) {
  LoadedEntry loaded;
  loaded.intact = false;
  loaded.problem_kind = kind;
  loaded.problem = std::move(problem);
  loaded.entry.stamp.device = units::is_utf8(row.device) ? row.device : "?";
  loaded.entry.stamp.sequence = row.sequence;
  loaded.entry.stamp.lamport = row.lamport;
  loaded.entry.what.kind = units::is_utf8(row.kind) ? row.kind : "?";
  if (const auto hash = hash_of_bytes(row.hash)) loaded.entry.hash = print_hex(*hash);
  if (const auto previous = hash_of_bytes(row.previous)) {
    loaded.entry.previous = print_hex(*previous);
  }
  return loaded;
}

LoadedEntry changed(const RowView& row) {
  if (is_zero(row.content) || is_zero(row.hash)) {
    return damaged(row, ProblemKind::zeroed, "where it stood there are zeros");
  }
  LoadedEntry loaded = damaged(row, ProblemKind::changed,
                               "its content is not what was recorded: content and hash do not fit");
  record::ParsedContent parsed = record::parse_content(row.content);
  if (!parsed.entry) return loaded;
  // Still readable: shown, but not believed. Its place is the one of the columns, which is where
  // the entries around it look for it.
  const record::Stamp place = loaded.entry.stamp;
  parsed.entry->hash = std::move(loaded.entry.hash);
  parsed.entry->previous = std::move(loaded.entry.previous);
  loaded.entry = std::move(*parsed.entry);
  loaded.entry.stamp.device = place.device;
  loaded.entry.stamp.sequence = place.sequence;
  loaded.entry.stamp.lamport = place.lamport;
  return loaded;
}

void compare_columns(const RowView& row, LoadedEntry& loaded) {
  const record::Stamp& stamp = loaded.entry.stamp;
  const bool place =
      row.device == stamp.device && row.sequence == stamp.sequence && row.lamport == stamp.lamport;
  if (place && row.kind == loaded.entry.what.kind) return;
  loaded.problem_kind = place ? ProblemKind::changed : ProblemKind::reordered;
  loaded.problem = place ? "its kind in the table is " + units::quote(row.kind) +
                               ", which is not what was recorded; the entry itself is intact"
                         : "its place in the table is " + units::quote(row.device) + " " +
                               std::to_string(row.sequence) + " (order " +
                               std::to_string(row.lamport) +
                               "), which is not where it was recorded; the entry itself is intact";
}

}  // namespace

std::string_view view(const HashBytes& hash) {
  // char may be looked at as bytes
  return {reinterpret_cast<const char*>(hash.data()), hash.size()};
}

std::optional<HashBytes> hash_of_bytes(std::string_view bytes) {
  HashBytes hash{};
  if (bytes.size() != hash.size()) return std::nullopt;
  std::memcpy(hash.data(), bytes.data(), hash.size());
  return hash;
}

void for_each_row(Database& database, const std::function<void(const RowView&)>& visit) {
  // Along the table itself: an index may be damaged by itself.
  const std::string signature = has_signatures(database) ? "signature" : "NULL";
  Statement statement =
      database.prepare("SELECT device, sequence, lamport, kind, previous, hash, content, " +
                       signature + " FROM entries NOT INDEXED ORDER BY position");
  while (statement.step()) {
    visit({.device = statement.bytes(0),
           .sequence = statement.whole(1),
           .lamport = statement.whole(2),
           .kind = statement.bytes(3),
           .previous = statement.bytes(4),
           .hash = statement.bytes(5),
           .content = statement.bytes(6),
           .signature = statement.bytes(7)});
  }
}

LoadedEntry check_row(const RowView& row) {
  const std::optional<HashBytes> previous = hash_of_bytes(row.previous);
  const std::optional<HashBytes> hash = hash_of_bytes(row.hash);
  if (!previous || !hash || entry_hash(row.content, *previous) != *hash) return changed(row);
  record::ParsedContent parsed = record::parse_content(row.content);
  if (!parsed.entry) {
    return damaged(row, ProblemKind::changed, "it can not be read: " + parsed.fault);
  }
  LoadedEntry loaded;
  loaded.entry = std::move(*parsed.entry);
  loaded.entry.previous = print_hex(*previous);
  loaded.entry.hash = print_hex(*hash);
  loaded.signature = row.signature;
  compare_columns(row, loaded);
  return loaded;
}

void put_in_order(std::vector<LoadedEntry>& entries) {
  const auto earlier = [](const LoadedEntry& a, const LoadedEntry& b) {
    return record::before(a.entry, b.entry);
  };
  if (!std::ranges::is_sorted(entries, earlier)) std::ranges::sort(entries, earlier);
}

std::int64_t insert_rows(Database& database, const std::vector<Row>& rows) {
  Statement insert = database.prepare(
      "INSERT OR IGNORE INTO entries "
      "(device, sequence, lamport, kind, previous, hash, content, signature) "
      "VALUES (?, ?, ?, ?, ?, ?, ?, ?)");
  std::int64_t came = 0;
  for (const Row& row : rows) {
    const record::ParsedContent parsed = record::parse_content(row.content);
    if (!parsed.entry) continue;
    const record::Stamp& stamp = parsed.entry->stamp;
    insert.reset();
    insert.bind_text(1, stamp.device)
        .bind(2, stamp.sequence)
        .bind(3, stamp.lamport)
        .bind_text(4, parsed.entry->what.kind)
        .bind_bytes(5, view(row.previous))
        .bind_bytes(6, view(row.hash))
        .bind_text(7, row.content);
    if (row.signature.empty()) {
      insert.bind_null(8);
    } else {
      insert.bind_bytes(8, row.signature);
    }
    insert.step();
    came += sqlite3_changes64(database.get());
  }
  return came;
}

}  // namespace weighwright::journal
