#pragma once
/// Sheets of paper, and the date in a file's facts.

#include <string>

#include "report/paper/paper.h"

namespace weighwright::report {

struct PaperExtent {
  double width = 0.0;  // points
  double height = 0.0;
};

/// A4: 210 mm x 297 mm (ISO 216); Letter: 8.5 in x 11 in (ANSI/ASME Y14.1).
[[nodiscard]] PaperExtent extent_of(PaperSize size);

/// "2026-11-25" as Cairo takes it; empty for anything that does not begin with such a date, so that
/// the file names none.
[[nodiscard]] std::string metadata_date(const std::string& issued);

}  // namespace weighwright::report
