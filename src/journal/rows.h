#pragma once
/// Rows of the table of entries: as they are read, checked and written.

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "journal/database.h"
#include "journal/entry_hash.h"
#include "journal/journal.h"

namespace weighwright::journal {

/// What is kept of an entry, whatever version wrote it.
struct Row {
  std::string content;
  HashBytes previous{};
  HashBytes hash{};
  std::string signature;  // 64 bytes, or none
};

/// A row as it lies in the table; valid while the statement stands on it.
struct RowView {
  std::string_view device;
  std::int64_t sequence = 0;
  std::int64_t lamport = 0;
  std::string_view kind;
  std::string_view previous;  // bytes
  std::string_view hash;      // bytes
  std::string_view content;
  std::string_view signature;  // bytes; empty: none
};

void for_each_row(Database& database, const std::function<void(const RowView&)>& visit);

/// The entry of a row, its hash checked.
[[nodiscard]] LoadedEntry check_row(const RowView& row);

/// Bytes as a hash, if there are 32.
[[nodiscard]] std::optional<HashBytes> hash_of_bytes(std::string_view bytes);
[[nodiscard]] std::string_view view(const HashBytes& hash);

/// Into the total order.
void put_in_order(std::vector<LoadedEntry>& entries);

/// Adds rows that are not there yet; returns how many. The caller holds a transaction. Rows are
/// intact and parse.
std::int64_t insert_rows(Database& database, const std::vector<Row>& rows);

}  // namespace weighwright::journal
