#pragma once
/// Results of one state (as found, as left): every line, agreement, what is missing, findings.

#include "report/document_view.h"
#include "report/paper/sheet.h"

namespace weighwright::report {

void draw_results(Sheet& sheet, const ProofView& proof, const std::string& title);
/// As found and as left in one chart.
void draw_errors(Sheet& sheet, const DocumentView& view);

}  // namespace weighwright::report
