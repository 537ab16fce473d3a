#include "report/paper/paper_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>

#include "report/paper/excerpt.h"

namespace weighwright::report {
namespace {

constexpr double kGap = 9.0;         // between columns
constexpr double kWidestGap = 17.0;  // where there is room
constexpr double kRowPad = 1.8;      // above and below a row's text
constexpr double kLeastStretch = 60.0;
constexpr double kMostRigid = 130.0;  // a rigid column wraps beyond that
constexpr double kTall = 0.5;         // of a page: a row above that is not kept together
constexpr double kFirstSize = 8.0;
constexpr double kLeastSize = 6.5;

/// A table with its widths, as it is drawn.
struct Layout {
  const PaperTable& table;
  double size = kFirstSize;  // of its text
  std::vector<double> x;
  std::vector<double> width;
  [[nodiscard]] TextStyle cell() const { return {.size = size}; }
  [[nodiscard]] TextStyle strong() const { return {.size = size, .bold = true}; }
  [[nodiscard]] TextStyle head() const { return {.size = size - 1.0, .bold = true, .ink = kGrey}; }
  [[nodiscard]] TextStyle unit() const { return {.size = size - 1.0, .ink = kGrey}; }
};

double natural_width(Canvas& canvas, const Layout& layout, std::size_t column) {
  const PaperColumn& own = layout.table.columns[column];
  double wide =
      std::max(canvas.width_of(own.head, layout.head()), canvas.width_of(own.unit, layout.unit()));
  for (const PaperRow& row : layout.table.rows) {
    if (row.kind != PaperRow::Kind::cells || column >= row.cells.size()) continue;
    const bool bold = row.strong && column + 1 == row.cells.size();
    wide =
        std::max(wide, canvas.width_of(row.cells[column], bold ? layout.strong() : layout.cell()));
  }
  return own.stretch ? wide : std::min(wide + 0.5, kMostRigid);
}

/// Columns that stretch get what they need, the narrowest first; those that need more than their
/// even part of what is left get that part.
/// @return room that nobody needed
double share_room(Layout& layout, double room) {
  std::vector<std::size_t> open;
  for (std::size_t i = 0; i < layout.width.size(); ++i) {
    if (layout.table.columns[i].stretch) open.push_back(i);
  }
  std::sort(open.begin(), open.end(),
            [&layout](std::size_t a, std::size_t b) { return layout.width[a] < layout.width[b]; });
  for (std::size_t i = 0; i < open.size(); ++i) {
    const double part = room / static_cast<double>(open.size() - i);
    layout.width[open[i]] = std::min(layout.width[open[i]], part);
    room -= layout.width[open[i]];
  }
  return room;
}

/// The column that takes spare room: the last of the table where it stretches, so that the others
/// stay together, else the first that does; none: the table's width.
std::size_t spare_column(const PaperTable& table) {
  if (table.columns.back().stretch) return table.columns.size() - 1;
  std::size_t first = 0;
  while (first < table.columns.size() && !table.columns[first].stretch) ++first;
  return first;
}

/// Spare room widens the gaps a little; the rest goes to one column.
/// @return the gap
double spend_spare(Layout& layout, double spare) {
  const auto gaps = static_cast<double>(layout.width.size() - 1);
  if (gaps < 1.0 || spare <= 0.0) return kGap;
  const std::size_t column = spare_column(layout.table);
  if (column == layout.width.size()) return kGap + spare / gaps;
  const double wider = std::min(spare / gaps, kWidestGap - kGap);
  layout.width[column] += spare - wider * gaps;
  return kGap + wider;
}

/// Widths at one size of text; false when a smaller text is needed.
bool fit(Canvas& canvas, Layout& layout, double room) {
  const std::size_t count = layout.table.columns.size();
  layout.width.assign(count, 0.0);
  double rigid = kGap * static_cast<double>(count - 1);
  double least = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    layout.width[i] = natural_width(canvas, layout, i);
    if (layout.table.columns[i].stretch) {
      least += std::min(layout.width[i], kLeastStretch);
    } else {
      rigid += layout.width[i];
    }
  }
  const double gap = spend_spare(layout, share_room(layout, std::max(room - rigid, least)));
  layout.x.assign(count, 0.0);
  for (std::size_t i = 1; i < count; ++i) layout.x[i] = layout.x[i - 1] + layout.width[i - 1] + gap;
  return rigid + least <= room;
}

Layout lay_out(Sheet& sheet, const PaperTable& table) {
  Layout layout{.table = table, .size = kFirstSize, .x = {}, .width = {}};
  while (!fit(sheet.canvas(), layout, sheet.width()) && layout.size > kLeastSize)
    layout.size -= 0.5;
  return layout;
}

void rule(Sheet& sheet, double width, const Ink& ink) {
  sheet.canvas().line({sheet.left(), sheet.y()}, {sheet.left() + sheet.width(), sheet.y()},
                      {.width = width, .ink = ink});
}

double head_height(Canvas& canvas, const Layout& layout) {
  double tallest = 0.0;
  for (std::size_t i = 0; i < layout.width.size(); ++i) {
    const PaperColumn& column = layout.table.columns[i];
    double height = canvas.height_of(layout.width[i] + 0.5, column.head, layout.head());
    if (!column.unit.empty()) height += canvas.height_of(200.0, column.unit, layout.unit());
    tallest = std::max(tallest, height);
  }
  return tallest + 2.0 * kRowPad;
}

void draw_head(Sheet& sheet, const Layout& layout) {
  Canvas& canvas = sheet.canvas();
  // The heading's rule serves; two close rules look like a slip.
  if (sheet.under_heading()) {
    sheet.skip(-4.0);
  } else {
    rule(sheet, 0.6, kBlack);
  }
  const double top = sheet.y() + kRowPad;
  for (std::size_t i = 0; i < layout.width.size(); ++i) {
    const PaperColumn& column = layout.table.columns[i];
    const double x = sheet.left() + layout.x[i];
    const double height =
        canvas.paragraph({x, top}, layout.width[i] + 0.5, column.head, layout.head(), column.align);
    if (!column.unit.empty())
      canvas.paragraph({x, top + height}, layout.width[i] + 0.5, column.unit, layout.unit(),
                       column.align);
  }
  sheet.skip(head_height(canvas, layout));
  rule(sheet, 0.4, kBlack);
}

double cells_height(Canvas& canvas, const Layout& layout, const PaperRow& row) {
  double tallest = 0.0;
  for (std::size_t i = 0; i < row.cells.size() && i < layout.width.size(); ++i) {
    const bool bold = row.strong && i + 1 == row.cells.size();
    tallest = std::max(tallest, canvas.height_of(layout.width[i] + 0.5, row.cells[i],
                                                 bold ? layout.strong() : layout.cell()));
  }
  return tallest + 2.0 * kRowPad;
}

void draw_cells(Sheet& sheet, const Layout& layout, const PaperRow& row) {
  for (std::size_t i = 0; i < row.cells.size() && i < layout.width.size(); ++i) {
    const bool bold = row.strong && i + 1 == row.cells.size();
    sheet.canvas().paragraph({sheet.left() + layout.x[i], sheet.y() + kRowPad},
                             layout.width[i] + 0.5, row.cells[i],
                             bold ? layout.strong() : layout.cell(), layout.table.columns[i].align);
  }
}

/// Two thirds for the name, a third for what stands at the right.
constexpr double kGroupShare = 0.60;

double group_height(Sheet& sheet, const Layout& layout, const PaperRow& row) {
  Canvas& canvas = sheet.canvas();
  double tall = canvas.height_of(sheet.width() * kGroupShare, row.cells[0], layout.strong());
  if (row.cells.size() > 1)
    tall = std::max(
        tall, canvas.height_of(sheet.width() * (1.0 - kGroupShare), row.cells[1], layout.unit()));
  return tall + 2.0 * kRowPad;
}

void draw_group(Sheet& sheet, const Layout& layout, const PaperRow& row, bool continued) {
  Canvas& canvas = sheet.canvas();
  const double height = group_height(sheet, layout, row);
  canvas.fill({sheet.left(), sheet.y() + 0.3, sheet.width(), height - 0.3}, kShade);
  const double top = sheet.y() + kRowPad;
  std::string name = row.cells[0];
  if (continued) name += fmt::format(" ({})", sheet.words().continued);
  const double split = sheet.width() * kGroupShare;
  canvas.paragraph({sheet.left() + 2.0, top}, split - 2.0, name, layout.strong());
  if (row.cells.size() > 1)
    canvas.paragraph({sheet.left() + split, top + 0.8}, sheet.width() - split - 2.0, row.cells[1],
                     layout.unit(), Align::right);
  sheet.skip(height);
}

double row_height(Sheet& sheet, const Layout& layout, const PaperRow& row) {
  switch (row.kind) {
    case PaperRow::Kind::group:
      return group_height(sheet, layout, row);
    case PaperRow::Kind::note:
      return sheet.canvas().height_of(sheet.width() - 12.0, row.cells[0], layout.unit()) + kRowPad;
    case PaperRow::Kind::cells:
      break;
  }
  return cells_height(sheet.canvas(), layout, row);
}

void draw_row(Sheet& sheet, const Layout& layout, const PaperRow& row) {
  if (row.kind == PaperRow::Kind::group) {
    draw_group(sheet, layout, row, false);
    return;
  }
  if (row.kind == PaperRow::Kind::note) {
    const double height = row_height(sheet, layout, row);
    sheet.canvas().paragraph({sheet.left() + 12.0, sheet.y()}, sheet.width() - 12.0, row.cells[0],
                             layout.unit());
    sheet.skip(height);
    return;
  }
  draw_cells(sheet, layout, row);
  sheet.skip(cells_height(sheet.canvas(), layout, row));
}

bool is_tall(Sheet& sheet, const Layout& layout, const PaperRow& row) {
  return row.kind == PaperRow::Kind::cells &&
         cells_height(sheet.canvas(), layout, row) > kTall * sheet.page_room();
}

/// Rows of figures from i on that belong to one group.
int rows_left(const std::vector<PaperRow>& rows, std::size_t i) {
  int count = 0;
  for (; i < rows.size() && rows[i].kind != PaperRow::Kind::group; ++i) {
    if (rows[i].kind == PaperRow::Kind::cells) ++count;
  }
  return count;
}

/// What must stand on one page with row i: a group's head its first two rows, the last row but one
/// the last, a row the notes below it.
double with_companions(Sheet& sheet, const Layout& layout, std::size_t i) {
  const std::vector<PaperRow>& rows = layout.table.rows;
  int open = rows[i].kind == PaperRow::Kind::group ? 2 : rows_left(rows, i) == 2 ? 1 : 0;
  double height = row_height(sheet, layout, rows[i]);
  for (std::size_t next = i + 1; next < rows.size(); ++next) {
    if (rows[next].kind == PaperRow::Kind::group) break;
    if (rows[next].kind == PaperRow::Kind::cells && open-- <= 0) break;
    height += row_height(sheet, layout, rows[next]);
  }
  return height;
}

/// A copy whose texts are short enough for paper.
PaperTable shortened(const PaperTable& table, const char* more) {
  PaperTable copy = table;
  for (PaperRow& row : copy.rows) {
    const std::size_t most = row.kind == PaperRow::Kind::cells ? kMostCell : kMostFact;
    for (std::string& cell : row.cells) cell = excerpt(cell, most, more);
  }
  return copy;
}

void next_page(Sheet& sheet, const Layout& layout, const PaperRow* group) {
  sheet.need(sheet.room() + 1.0);
  draw_head(sheet, layout);
  if (group != nullptr) draw_group(sheet, layout, *group, true);
}

/// Line by line over pages.
void draw_tall(Sheet& sheet, const Layout& layout, const PaperRow& row, const PaperRow* group) {
  std::vector<PaperRow> slices;
  for (std::size_t i = 0; i < row.cells.size() && i < layout.width.size(); ++i) {
    const std::vector<std::string> lines =
        sheet.canvas().lines(layout.width[i] + 0.5, row.cells[i], layout.cell());
    if (slices.size() < lines.size())
      slices.resize(lines.size(), {.cells = std::vector<std::string>(row.cells.size())});
    for (std::size_t line = 0; line < lines.size(); ++line) slices[line].cells[i] = lines[line];
  }
  sheet.skip(kRowPad);
  for (const PaperRow& slice : slices) {
    const double height = cells_height(sheet.canvas(), layout, slice) - 2.0 * kRowPad;
    if (height + kRowPad > sheet.room()) {
      rule(sheet, 0.4, kBlack);
      next_page(sheet, layout, group);
      sheet.skip(kRowPad);
    }
    sheet.skip(-kRowPad);  // cells stand that much below where a row begins
    draw_cells(sheet, layout, slice);
    sheet.skip(kRowPad + height);
  }
  sheet.skip(kRowPad);
}

}  // namespace

void draw_table(Sheet& sheet, const PaperTable& given) {
  if (given.rows.empty()) return;
  const PaperTable table = shortened(given, sheet.words().more);
  const Layout layout = lay_out(sheet, table);
  sheet.need(head_height(sheet.canvas(), layout) + with_companions(sheet, layout, 0));
  draw_head(sheet, layout);
  const PaperRow* group = nullptr;
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    const PaperRow& row = table.rows[i];
    const bool heads = row.kind == PaperRow::Kind::group;
    if (is_tall(sheet, layout, row)) {
      if (i > 0) rule(sheet, 0.25, kHairline);
      draw_tall(sheet, layout, row, group);
      continue;
    }
    if (with_companions(sheet, layout, i) > sheet.room()) {
      rule(sheet, 0.4, kBlack);
      next_page(sheet, layout, heads ? nullptr : group);
    } else if (i > 0 && row.kind == PaperRow::Kind::cells) {
      rule(sheet, 0.25, kHairline);
    }
    if (heads) group = &row;
    draw_row(sheet, layout, row);
  }
  rule(sheet, 0.6, kBlack);
  sheet.skip(5.0);
}

std::string typeset(const std::string& figure, bool us) {
  const bool signed_figure = !figure.empty() && (figure[0] == '-' || figure[0] == '+');
  const std::string digits = signed_figure ? figure.substr(1) : figure;
  if (digits.empty() || digits.find_first_not_of("0123456789.") != std::string::npos) return figure;
  const std::size_t whole = std::min(digits.find('.'), digits.size());
  const char* const separator = us ? "," : "\u202f";
  std::string text = !signed_figure ? "" : figure[0] == '-' ? "\u2212" : "+";
  for (std::size_t i = 0; i < whole; ++i) {
    // Four digits stay together except by commas: 1,000 is how it is read there.
    if (i > 0 && (whole - i) % 3 == 0 && (us || whole > 4)) text += separator;
    text += digits[i];
  }
  return text + digits.substr(whole);
}

}  // namespace weighwright::report
