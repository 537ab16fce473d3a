#pragma once
/// The only place where files are read: a whole file as text, or one clear sentence why not.

#include <cstddef>
#include <iosfwd>
#include <optional>
#include <string>

#include "units/diagnostic.h"

namespace weighwright::cli {

/// The most that a table or deck file may hold. Larger files are refused by their size, before
/// reading.
inline constexpr std::size_t kLargestInput_bytes = 1'000'000;

struct FileText {
  std::optional<std::string> text;
  units::Diagnostic fault;  // when there is no text
};

/// @param path      "-" reads `standard_in` (named "standard input" in messages)
/// Never throws on what a file holds; a directory, a missing or an unreadable file is a fault.
[[nodiscard]] FileText read_file_text(const std::string& path,
                                      std::istream& standard_in,
                                      std::size_t most_bytes = kLargestInput_bytes);

/// Whether a journal lies there rather than a text (by its first bytes). False when it can't be
/// read.
[[nodiscard]] bool is_journal(const std::string& path);

/// How a path is named in messages.
[[nodiscard]] std::string name_of_input(const std::string& path);

}  // namespace weighwright::cli
