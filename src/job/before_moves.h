#pragma once
/// What must be read before trims or span are moved, because faults hide from what was read so far.
///
/// Corners over stands, going up, one load: a bind that was trimmed out, something that touches
/// between stands, a packed end all look like trims (common practice, no source). A span far from
/// the papers looks like a bad contact in the supply.

#include <string>
#include <vector>

#include "job/site_advice.h"
#include "job/site_state.h"

namespace weighwright::job {

/// What is still to be read before the first trim is moved, as sentences; empty: enough.
/// @param worst  the place that is furthest off, as typed ("2L"): a bind is looked for there
[[nodiscard]] std::vector<std::string> unread_before_trims(const Evidence& corners,
                                                           const std::string& worst);

/// Whether somebody looked at, or measured, the supply between box and indicator at this visit.
[[nodiscard]] bool supply_was_looked_at(const SiteState& state);

}  // namespace weighwright::job
