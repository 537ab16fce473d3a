#pragma once
/// From the one next action to forms: what would be recorded, with places, columns and what is
/// known already; and the commands that make a practice site do it.

#include <vector>

#include "job/site_advice.h"
#include "job/site_state.h"
#include "job/steps.h"
#include "report/ask_view.h"

namespace weighwright::job {

/// @return empty where the deck is still to be described
[[nodiscard]] std::vector<report::FormView> asks_of(const SiteState& state,
                                                    const SiteAdvice& advice,
                                                    const Action& action);

/// A load that is worth placing on one stand of this deck: 0.4 of the least cell's capacity, at
/// most 0.3 Max, in whole tonnes or thousands of pounds (common practice, no source). kg.
[[nodiscard]] double handy_load_kg(const deck::Deck& deck);

}  // namespace weighwright::job
