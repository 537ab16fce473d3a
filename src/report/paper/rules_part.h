#pragma once
/// The rulebook on paper: who compared it with print, or the list of what nobody compared.

#include "report/paper/sheet.h"
#include "report/rules_view.h"

namespace weighwright::report {

/// In a report. The list is drawn only where nobody confirmed the rulebook.
void draw_rules(Sheet& sheet, const RulesView& view);
/// The list alone, with a column to be filled in.
void draw_rule_numbers(Sheet& sheet, const RulesView& view);

}  // namespace weighwright::report
