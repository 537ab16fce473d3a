#pragma once
/// The pit sheet: one printed page that survives rain, with boxes for the next readings in walking
/// order (up the left side, back down the right).

#include <string>

#include "report/share_view.h"

namespace weighwright::report {

inline constexpr int kSheetLines = 60;  // of a plain-text sheet
inline constexpr int kSheetColumns = 80;

/// Plain text, at most kSheetLines lines of kSheetColumns columns. What does not fit is left out
/// from the bottom up, and the sheet says so.
[[nodiscard]] std::string draw_sheet_text(const ShareView& view);

/// One self-contained HTML page for A4 or Letter; every text is escaped, nothing is fetched.
[[nodiscard]] std::string draw_sheet_html(const ShareView& view);

}  // namespace weighwright::report
