#include "report/paper/rules_part.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/paper/closing_part.h"
#include "report/paper/paper_table.h"

namespace weighwright::report {

void draw_rule_numbers(Sheet& sheet, const RulesView& view) {
  const Phrases& words = sheet.words();
  PaperTable table;
  table.columns = {{.head = words.clause, .align = Align::left, .stretch = true},
                   {.head = words.rule_value, .align = Align::right},
                   {.head = words.rule_says, .align = Align::left, .stretch = true},
                   {.head = words.rule_known, .align = Align::left, .stretch = true},
                   {.head = words.rule_page, .align = Align::left}};
  for (const RuleNumberView& number : view.numbers) {
    table.rows.push_back({.kind = PaperRow::Kind::cells,
                          .cells = {number.clause, number.value, number.says, number.known,
                                    "\u2610 .............."}});
  }
  draw_table(sheet, table);
}

namespace {

/// Numbers that stand in one clause and are known in one way, in a row: "class III, step 1 of the
/// limits: up to so many divisions: 500; ...".
PaperTable by_clause(const RulesView& view, const Phrases& words) {
  PaperTable table;
  table.columns = {{.head = words.clause, .align = Align::left, .stretch = true},
                   {.head = words.rule_numbers, .align = Align::left, .stretch = true},
                   {.head = words.rule_known, .align = Align::left, .stretch = true}};
  for (const RuleNumberView& number : view.numbers) {
    const std::string says = number.says + " = " + number.value;
    const auto same =
        std::find_if(table.rows.begin(), table.rows.end(), [&number](const PaperRow& row) {
          return row.cells[0] == number.clause && row.cells[2] == number.known;
        });
    if (same == table.rows.end()) {
      table.rows.push_back(
          {.kind = PaperRow::Kind::cells, .cells = {number.clause, says, number.known}});
    } else {
      same->cells[1] += "; " + says;
    }
  }
  return table;
}

}  // namespace

void draw_rules(Sheet& sheet, const RulesView& view) {
  const Phrases& words = sheet.words();
  sheet.heading(words.rulebook);
  if (!view.says.empty()) sheet.paragraph(view.says);
  if (!view.known.empty()) sheet.paragraph(view.known, kSmall);
  sheet.paragraph(fmt::format(fmt::runtime(words.rules_hash), in_groups(view.hash)), kSmall);
  if (view.confirmed || view.numbers.empty()) return;
  sheet.subheading(words.unverified, 60.0);
  draw_table(sheet, by_clause(view, words));
}

}  // namespace weighwright::report
