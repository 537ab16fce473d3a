#pragma once
/// Forms of the test by a rulebook: occasion, weights at hand, a placement's reading, the report.

#include <string>
#include <utility>
#include <vector>

#include "deck/deck.h"
#include "job/rules_standing.h"
#include "job/site_state.h"
#include "report/ask_view.h"
#include "report/test_plan_view.h"

namespace weighwright::job {

/// The fields of a kind of entry, with what is known of them.
[[nodiscard]] report::FormView entry_form(
    const std::string& kind, const std::vector<std::pair<std::string, std::string>>& given);

/// @param occasions  codes that the rulebook knows
[[nodiscard]] report::FormView occasion_form(const std::vector<std::string>& occasions);
[[nodiscard]] report::FormView weights_form(const deck::Deck& deck);
/// One placement as planned; its load may be changed where other weights were used.
[[nodiscard]] report::FormView placement_form(const deck::Deck& deck,
                                              const report::PlacementView& placement);
/// Lines of any test.
[[nodiscard]] report::FormView results_form(const deck::Deck& deck);
/// What a report needs that is not on record yet, the report last.
[[nodiscard]] std::vector<report::FormView> report_forms(const SiteState& state,
                                                         const RulesStanding& standing);

}  // namespace weighwright::job
