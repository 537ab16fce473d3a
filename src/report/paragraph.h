#pragma once
/// Words to lines of a given width. Widths count code points, not bytes ("±" is one column).

#include <string>
#include <string_view>

namespace weighwright::report {

/// Columns that a UTF-8 text takes on a terminal (code points; no wide or combining characters).
[[nodiscard]] int columns_of(std::string_view text);

/// `text` followed by blanks up to `width` columns; longer text is left as it is.
[[nodiscard]] std::string pad_right(std::string_view text, int width);

/// `text` in the middle of `width` columns.
[[nodiscard]] std::string centre(std::string_view text, int width);

/// Breaks at blanks so that no line is longer than `width` (a longer word stands alone on its
/// line).
/// @param first   what stands before the first line ("1. ")
/// @param hanging what stands before each further line ("   ")
/// Every line ends with a line feed. Line feeds in `text` are kept as breaks.
[[nodiscard]] std::string wrap(std::string_view text,
                               int width,
                               std::string_view first = "",
                               std::string_view hanging = "");

}  // namespace weighwright::report
