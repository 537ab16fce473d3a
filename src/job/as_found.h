#pragma once
/// What was read of a scale as it was found: whether it is enough, and whether opening the box for
/// the cells alone would be worth it.

#include <optional>
#include <string>

#include "job/action_words.h"
#include "job/site_advice.h"
#include "job/site_state.h"

namespace weighwright::job {

/// Of the present visit. @pre state.deck
[[nodiscard]] AsFoundRead as_found_read(const SiteState& state);

/// Complete with what is had without opening anything: zero and a load over every stand or section,
/// or a whole test by the rulebook; of digital cells each one too, for nothing is opened for them.
[[nodiscard]] bool as_found_complete(const SiteState& state, const SiteAdvice& advice);

/// Why the cells alone would tell more now. Empty: nothing that was read says so.
[[nodiscard]] std::string why_open(const SiteAdvice& advice);

}  // namespace weighwright::job
