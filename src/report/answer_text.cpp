#include <algorithm>
#include <cctype>

#include "report/answer_view.h"
#include "report/paragraph.h"

namespace weighwright::report {
namespace {

bool is_number(const std::string& cell) {
  return !cell.empty() &&
         (std::isdigit(static_cast<unsigned char>(cell.front())) != 0 || cell.front() == '-' ||
          cell.front() == '+') &&
         std::isdigit(static_cast<unsigned char>(cell.back())) != 0;
}

std::string table_line(const std::vector<std::string>& cells,
                       const std::vector<int>& widths,
                       std::string_view indent) {
  std::string line(indent);
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i > 0) line += "  ";
    if (is_number(cells[i])) {
      const int blanks = widths[i] - columns_of(cells[i]);
      line += std::string(static_cast<std::size_t>(std::max(0, blanks)), ' ') + cells[i];
    } else {
      line += pad_right(cells[i], widths[i]);
    }
  }
  line.erase(line.find_last_not_of(' ') + 1);
  return line + '\n';
}

}  // namespace

std::string draw_text(const Table& table, std::string_view indent) {
  std::vector<int> widths;
  for (const std::string& cell : table.heading) widths.push_back(columns_of(cell));
  for (const auto& row : table.rows) {
    for (std::size_t i = 0; i < row.size(); ++i)
      widths[i] = std::max(widths[i], columns_of(row[i]));
  }
  std::string text = table_line(table.heading, widths, indent);
  for (const auto& row : table.rows) text += table_line(row, widths, indent);
  return text;
}

std::string assumed_text(const std::vector<deck::Assumed>& assumed, int most) {
  if (assumed.empty()) return "";
  std::string sentence = "Assumed (not in the deck file):";
  const int count = static_cast<int>(assumed.size());
  for (int i = 0; i < std::min(count, most); ++i) {
    const deck::Assumed& item = assumed[static_cast<std::size_t>(i)];
    sentence += (i == 0 ? " " : "; ") + item.key + " = " + item.value;
  }
  if (count > most) sentence += "; and " + std::to_string(count - most) + " more (see check)";
  return wrap(sentence + ".", 80, "", "  ");
}

}  // namespace weighwright::report
