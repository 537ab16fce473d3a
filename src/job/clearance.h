#pragma once
/// Whether a deck may be grouted: what a clearance rests on, and what it lacks.
///
/// Grout ends what screws can do, so the balance is proven before it: by cells that were read at
/// this visit since something was moved last, or by somebody who accepted the difference in words.
/// Order and conditions: common practice, no source.

#include <string>
#include <vector>

#include "job/release.h"
#include "job/site_advice.h"
#include "job/site_state.h"
#include "record/entry.h"

namespace weighwright::job {

/// Everything that stands against a clearance for grout, all at once. Empty: it may be grouted.
/// @pre advice is that of the state; without a readable deck it is empty
[[nodiscard]] std::vector<Lack> clearance_lacks(const SiteState& state,
                                                const SiteAdvice& advice,
                                                const record::Fields& clearance);

/// Whether the cells were read at this visit, and nothing moved the deck since.
[[nodiscard]] bool cells_read_here(const SiteState& state, const SiteAdvice& advice);

/// Of each pair: "section 2 (2L, 2R): 0.03 mV apart, 0.22 mV allowed"; of digital cells in the mass
/// that weighs it. Empty: nothing was judged. @pre state.deck
[[nodiscard]] std::vector<std::string> pairs_in_words(const SiteState& state,
                                                      const SiteAdvice& advice,
                                                      bool only_beyond);

}  // namespace weighwright::job
