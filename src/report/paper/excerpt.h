#pragma once
/// One text of a journal may be of any length; paper is not.

#include <cstddef>
#include <string>

namespace weighwright::report {

/// Characters that are printed of one text (our own choice): about two and a half pages.
inline constexpr std::size_t kMostText = 12000;
inline constexpr std::size_t kMostCell = 4000;  // in a table
/// Of what must stand on one page as a whole: a fact, a head.
inline constexpr std::size_t kMostFact = 800;
inline constexpr std::size_t kMostLine = 90;  // of what must stand on one line

/// The text, or its first `most` characters and what says that there is more. A line feed counts as
/// forty characters, since it takes a line.
/// @param more  "{}" stands for the number of characters left out
[[nodiscard]] std::string excerpt(const std::string& text, std::size_t most, const char* more);

/// One line: line feeds are blanks, the end of a longer text is an ellipsis.
[[nodiscard]] std::string one_line(const std::string& text, std::size_t most = kMostLine);

}  // namespace weighwright::report
