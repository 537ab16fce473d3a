#pragma once
/// Event counters of the indicator over all visits: they only go up.
///
/// A counter that shows less than before has wrapped (three digits, 000 after 999: HB 44, S.1.11
/// and G-S.8; from memory, unverified) or belongs to another board. Nobody can tell from here:
/// asked.

#include <string>
#include <vector>

#include "job/site_state.h"

namespace weighwright::job {

[[nodiscard]] std::vector<std::string> counter_warnings(const SiteState& state);

}  // namespace weighwright::job
