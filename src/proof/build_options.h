#pragma once
/// How the increasing loads can be built up with the standards at hand: by weights alone, with
/// substitutes, or weights and a strain load.
///
/// Rule    By repeatability (R 76-1:2006, 3.7.3): Max must be reached, the rest by substitutes. By
///         capacity (HB 44, Table 4): the least weights, then substitutes (at most so many) or a
///         strain load to used capacity.

#include <vector>

#include "proof/build_up.h"
#include "proof/test_plan.h"

namespace weighwright::proof {

struct BuildOptions {
  std::vector<BuildQuestion> questions;  // any of them will do; empty: impossible
  /// Of a scale with several ranges: the same for each but the last, from zero to its Max.
  std::vector<std::vector<BuildQuestion>> lower_ranges;
  rules::Amount amount;
  bool strain = false;           // known weights on top of a lorry, to Max
  bool strain_required = false;  // the rulebook's test load is not reached otherwise
  std::vector<PlanFinding> findings;
};

/// How near to Max counts as Max, where the pieces allow it and where they do not.
inline constexpr double kAtMax = 0.999;
inline constexpr double kNearMax = 0.98;  // common practice, no source

/// @param near_max  kAtMax or kNearMax
[[nodiscard]] BuildOptions build_options(const rules::Rulebook& rulebook,
                                         const rules::Scale& scale,
                                         const PlanRequest& request,
                                         const Stock& stock,
                                         double near_max = kAtMax);

}  // namespace weighwright::proof
