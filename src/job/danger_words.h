#pragma once
/// What was recorded though it can hurt, and what a tick goes past: told at once and in every
/// answer after.

#include <string>
#include <vector>

#include "job/site_state.h"

namespace weighwright::job {

/// In every answer of this journal.
[[nodiscard]] std::vector<std::string> dangers_of(const SiteState& state);

/// Of these lines alone, which were recorded just now.
[[nodiscard]] std::vector<std::string> dangers_of(const SiteState& state,
                                                  const std::vector<int>& lines);

}  // namespace weighwright::job
