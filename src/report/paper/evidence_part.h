#pragma once
/// What the results rest on: standards, traceability, environment, uncertainty, decision rule.

#include "report/document_view.h"
#include "report/paper/sheet.h"

namespace weighwright::report {

/// ISO/IEC 17025:2017, 7.8.4.1 a to c, 7.8.6.
void draw_evidence(Sheet& sheet, const DocumentView& view);

}  // namespace weighwright::report
