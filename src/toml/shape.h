#pragma once
/// Whether a TOML text is of a shape that may be given to the TOML library: no key of many parts,
/// nothing nested deep, no endless line, no heap of tables.
///
/// The library (toml++ 3.3) builds a table for each part of a dotted key and takes the tree down
/// again by recursion: a key of 20,000 parts, 40 kB, ends the program. What is looked at here comes
/// first, and takes one walk along the text.
///
/// @pre  what the readers' own checks have made sure of: UTF-8, no signs beyond ASCII outside
///       quotation marks and comments, no text over several lines ("""). Elsewhere the library and
///       this walk may differ about where a quotation mark ends.

#include <cstddef>
#include <optional>
#include <string_view>

#include "units/diagnostic.h"

namespace weighwright::toml_text {

/// TOML v1.0.0 sets no limits; ours are several times what a deck file or a rulebook needs.
inline constexpr std::size_t kMostKeyParts = 8;    // a.b.c has three
inline constexpr std::size_t kMostBrackets = 8;    // [ and { within one another
inline constexpr std::size_t kMostTables = 2'000;  // headers, as [stand.2L]
inline constexpr std::size_t kLongestLine_bytes = 20'000;

/// The first thing that is too deep or too long, with line, column (in characters) and what would
/// be right; the name of the file is the caller's.
[[nodiscard]] std::optional<units::Diagnostic> find_excess(std::string_view text);

}  // namespace weighwright::toml_text
