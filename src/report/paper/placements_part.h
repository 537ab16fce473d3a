#pragma once
/// Where the loads stood: the test plan as a table, each different placement drawn once.

#include "report/document_view.h"
#include "report/paper/sheet.h"

namespace weighwright::report {

/// Nothing where the view has no plan.
void draw_placements(Sheet& sheet, const DocumentView& view);

}  // namespace weighwright::report
