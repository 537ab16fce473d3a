#pragma once
/// Which of a site's entries count for sharing, corners, span and diagnosis.

#include <set>
#include <vector>

#include "diagnose/diagnose.h"
#include "job/site_advice.h"
#include "job/site_state.h"

namespace weighwright::job {

[[nodiscard]] Evidence share_evidence(const SiteState& state);
[[nodiscard]] Evidence trim_evidence(const SiteState& state);
[[nodiscard]] Evidence span_evidence(const SiteState& state);

/// Stands whose cell, the one that stands there now, was read with nothing on it.
/// @param lines  gets the entries that say so; null: not asked for
[[nodiscard]] std::set<int> read_with_no_load(const SiteState& state,
                                              std::vector<int>* lines = nullptr);

[[nodiscard]] MapSeen map_seen(const SiteState& state);

struct DiagnosisEvidence {
  diagnose::Case what;
  std::vector<int> lines;
};
[[nodiscard]] DiagnosisEvidence diagnosis_evidence(const SiteState& state);

}  // namespace weighwright::job
