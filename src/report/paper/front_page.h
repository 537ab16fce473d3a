#pragma once
/// First page of a report: what, for whom, by whom, when, the outcome in words, the deck.

#include "report/document_view.h"
#include "report/paper/sheet.h"

namespace weighwright::report {

/// ISO/IEC 17025:2017, 7.8.2.1 a to k.
void draw_front(Sheet& sheet, const DocumentView& view);

}  // namespace weighwright::report
