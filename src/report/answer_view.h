#pragma once
/// What several answers have in common.

#include <string>
#include <string_view>
#include <vector>

#include "deck/deck.h"

namespace weighwright::report {

/// A heading and its figures, for texts and sheets.
struct Table {
  std::vector<std::string> heading;
  std::vector<std::vector<std::string>> rows;  // each as long as the heading
};

/// Columns as wide as they need, numbers to the right; every line ends with a line feed.
[[nodiscard]] std::string draw_text(const Table& table, std::string_view indent = "  ");

/// "Assumed: a = 1; b = 2." wrapped to 80 columns; empty when nothing was assumed.
/// @param most  how many are named before "and N more"
[[nodiscard]] std::string assumed_text(const std::vector<deck::Assumed>& assumed, int most);

}  // namespace weighwright::report
