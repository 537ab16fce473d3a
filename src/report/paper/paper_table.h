#pragma once
/// Tables that go over pages: heads are repeated, a group's name as well. A row goes
/// over a page by lines only when it is taller than half of one; a cell holds at most kMostCell
/// characters.

#include <string>
#include <vector>

#include "report/paper/sheet.h"

namespace weighwright::report {

struct PaperColumn {
  std::string head;
  std::string unit = {};  // below the head; empty: none
  Align align = Align::left;
  bool stretch = false;  // takes the room that is left, and wraps
};

struct PaperRow {
  enum class Kind {
    cells,
    group,  // the first cell heads the rows below it, the second stands at the right
    note,   // the first cell, across the table
  };
  Kind kind = Kind::cells;
  std::vector<std::string> cells = {};
  bool strong = false;  // the last cell in bold
};

struct PaperTable {
  std::vector<PaperColumn> columns;
  std::vector<PaperRow> rows;
};

void draw_table(Sheet& sheet, const PaperTable& table);

/// A figure as it is set: true minus, digits of the whole part in groups of three by a thin space
/// (ISO 80000-1:2009, 7.3.1) or, where `us`, by commas. Text that is no figure is returned as it
/// is.
[[nodiscard]] std::string typeset(const std::string& figure, bool us);

}  // namespace weighwright::report
