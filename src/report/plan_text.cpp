#include <algorithm>
#include <cmath>
#include <cstddef>

#include "report/paragraph.h"
#include "report/plan_view.h"

namespace weighwright::report {
namespace {

constexpr int kMargin = 8;   // the words at the left
constexpr int kEnd = 6;      // "|end 2"
constexpr int kColumn = 11;  // one section, at least

/// The part of the deck that one drawing shows: sections first .. last.
struct Part {
  int first = 0;
  int last = 0;
  bool starts_deck = true;
  bool ends_deck = true;
  int column = kColumn;  // width of a section
  [[nodiscard]] int width() const { return column * (last - first + 1); }
  [[nodiscard]] int column_of_section(int section) const {
    return column / 2 + column * (section - first);
  }
};

std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

void trim_end(std::string& line) {
  line.erase(line.find_last_not_of(' ') + 1);
}

/// Column of a place on the deck: straight between the sections' columns, off the columns
/// themselves.
int column_of(const PlanView& plan, const Part& part, double x_m) {
  const auto& xs = plan.sections_m;
  const int count = static_cast<int>(xs.size());
  const auto after = std::upper_bound(xs.begin(), xs.end(), x_m + 1e-9);
  const int next = static_cast<int>(after - xs.begin());
  if (next > 0 && std::abs(xs[at(next - 1)] - x_m) < 1e-3) return part.column_of_section(next - 1);
  if (next == 0) return part.column_of_section(0) - 3;
  if (next == count) return part.column_of_section(count - 1) + 3;
  const double share = (x_m - xs[at(next - 1)]) / (xs[at(next)] - xs[at(next - 1)]);
  const int raw = static_cast<int>(std::lround(share * part.column));
  return part.column_of_section(next - 1) + std::clamp(raw, 2, part.column - 2);
}

/// A row with nothing to say in this part is left out.
std::string row_text(const PlanRow& row, const Part& part) {
  const auto first = row.cells.begin() + part.first;
  const auto last = row.cells.begin() + part.last + 1;
  if (std::all_of(first, last, [](const std::string& cell) { return cell.empty(); })) return "";
  std::string line = pad_right(row.label, kMargin);
  for (int section = part.first; section <= part.last; ++section) {
    line += centre(row.cells[at(section)], part.column);
  }
  trim_end(line);
  return line + '\n';
}

char joint_sign(JointMark mark) {
  switch (mark) {
    case JointMark::hangs:
      return 'x';
    case JointMark::rigid:
      return '=';
    case JointMark::rests:
    case JointMark::none:
      break;
  }
  return ':';
}

/// An edge of the deck: `+---o-----:--o---+`.
std::string edge(const PlanView& plan, const Part& part, bool left) {
  std::string line(at(part.width()), '-');
  for (int section = part.first; section <= part.last; ++section) {
    line[at(part.column_of_section(section))] = 'o';
  }
  for (std::size_t joint = 0; joint < plan.joints.size(); ++joint) {
    const int column = column_of(plan, part, plan.modules[joint].end_m);
    if (column < 0 || column >= part.width()) continue;
    char& place = line[at(column)];
    const JointMark mark = left ? plan.joints[joint].left : plan.joints[joint].right;
    place = place == 'o' ? 'O' : joint_sign(mark);
  }
  const std::string before = part.starts_deck ? "+" : "~";
  const std::string after = part.ends_deck ? "+" : "~";
  return std::string(at(kMargin - 1), ' ') + before + line + after + '\n';
}

/// Writes a module's mark in the middle of the columns from .. to, where it fits. One string a
/// column: the whole mark stands in its first column, so that letters of several bytes do not shift
/// the rest.
void write_mark(std::vector<std::string>& line, const std::string& mark, int from, int to) {
  const int left = std::max(from, 0);
  const int right = std::min(to, static_cast<int>(line.size()));
  const int width = columns_of(mark);
  if (right - left < width + 2) return;
  const int start = left + ((right - left - width) / 2);
  line[at(start)] = mark;
  for (int column = start + 1; column < start + width; ++column) line[at(column)].clear();
}

/// Between the edges: each module's mark in its middle, the joints.
std::string middle(const PlanView& plan, const Part& part) {
  std::vector<std::string> line(at(part.width()), " ");
  int from = 0;
  for (std::size_t module = 0; module < plan.modules.size(); ++module) {
    const bool last = module + 1 == plan.modules.size();
    const int to = last ? part.column_of_section(static_cast<int>(plan.sections_m.size()))
                        : column_of(plan, part, plan.modules[module].end_m);
    if (!last && to >= 0 && to < part.width()) line[at(to)] = ":";
    write_mark(line, plan.modules[module].mark, from, to);
    from = to + 1;
  }
  std::string text = part.starts_deck ? "end 1  |" : "       ~";
  for (const std::string& column : line) text += column;
  return text + (part.ends_deck ? "|end 2\n" : "~\n");
}

/// Wide enough for the longest figure and a blank.
int column_width(const PlanView& plan) {
  int width = kColumn;
  for (const auto* rows : {&plan.left, &plan.right, &plan.pairs}) {
    for (const PlanRow& row : *rows) {
      for (const std::string& cell : row.cells) width = std::max(width, columns_of(cell) + 1);
    }
  }
  return width;
}

std::string draw_part(const PlanView& plan, const Part& part) {
  std::string text;
  for (const PlanRow& row : plan.left) text += row_text(row, part);
  text += edge(plan, part, true);
  text += middle(plan, part);
  text += edge(plan, part, false);
  for (const PlanRow& row : plan.right) text += row_text(row, part);
  for (const PlanRow& row : plan.pairs) text += row_text(row, part);
  return text;
}

}  // namespace

std::string draw_text(const PlanView& plan, int columns) {
  const int column = column_width(plan);
  const int count = static_cast<int>(plan.sections_m.size());
  const int most = std::max(1, (columns - kMargin - kEnd) / column);
  // Parts of nearly equal length: nine sections as five and four, not six and three.
  const int parts = (count + most - 1) / most;
  std::string text;
  for (int part = 0, first = 0; part < parts; ++part) {
    const int size = (count - first + parts - part - 1) / (parts - part);
    if (part > 0) text += '\n';
    text += draw_part(plan, {.first = first,
                             .last = first + size - 1,
                             .starts_deck = part == 0,
                             .ends_deck = part + 1 == parts,
                             .column = column});
    first += size;
  }
  return text;
}

}  // namespace weighwright::report
