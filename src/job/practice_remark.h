#pragma once
/// How a journal says that it is a practice site's.

#include "job/site_state.h"

namespace weighwright::job {

inline constexpr const char* kPracticeRemark = "practice site: every reading here is invented";

/// Whether its first visit says that it is a practice site's.
[[nodiscard]] bool is_practice(const SiteState& state);

}  // namespace weighwright::job
