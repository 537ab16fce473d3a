#pragma once
/// Finding entries in a file that SQLite can not read any more.
///
/// Every page of the file and of its write-ahead log is searched for what a row of the table of
/// entries looks like (SQLite's "Database File Format", sections 1.6, 2.1 and 4), whatever the
/// page's own header, pointers and tree say; long rows are followed through their overflow pages.
/// An entry is intact only if its hash fits. Rows that look like an entry but do not fit are named
/// as damaged, unless an intact copy was found elsewhere in the file.
///
/// Limits  an entry whose row header is destroyed leaves a gap in its chain, or nothing if it was
///         the last one. An entry that was being written when the power failed may come to light.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "journal/journal.h"

namespace weighwright::journal {

struct Salvaged {
  std::vector<LoadedEntry> entries;  // in total order, with content; damaged ones are marked
};

/// Never throws on what the file holds; a file that can not be read gives nothing.
[[nodiscard]] Salvaged salvage(const std::string& path);

/// The same of bytes: a file, and its log or nothing.
[[nodiscard]] Salvaged salvage_bytes(std::string_view file, std::string_view log);

/// Writes every intact entry of a damaged journal (and each attachment that can still be read) to a
/// new one.
struct Rescued {
  std::int64_t entries = 0;
  std::vector<Problem> lost;  // what could not be brought over
  units::Diagnostics faults;  // when nothing was written
};
[[nodiscard]] Rescued rescue(const std::string& path, const std::string& new_path);

}  // namespace weighwright::journal
