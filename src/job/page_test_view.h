#pragma once
/// The test by the rulebook as the page shows it: every placement with its limit and what came of
/// it.

#include <optional>
#include <string>
#include <vector>

#include "job/site_proof.h"
#include "report/page_view.h"

namespace weighwright::job {

/// Empty: occasion or weights are not on record, and nothing was tested.
[[nodiscard]] std::optional<report::PageTestView> page_test_view(const SiteProof& proof);

/// Papers that can be had of a site now.
[[nodiscard]] std::vector<std::string> papers_of(const SiteState& state, const SiteProof& proof);

}  // namespace weighwright::job
