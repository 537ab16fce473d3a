#pragma once
/// Forms of what fixes a deck: cleared for grout, released for load; filled in as far as the
/// journal knows. Who says it is never filled in, but on a practice site.

#include "job/site_state.h"
#include "report/ask_view.h"

namespace weighwright::job {

[[nodiscard]] report::FormView clearance_form(const SiteState& state);
[[nodiscard]] report::FormView release_form(const SiteState& state);

}  // namespace weighwright::job
