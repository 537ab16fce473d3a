#pragma once
/// A solution as placements in order, with limits, zero readings and patches.
///
/// Order   zero; repeatability first where substitutes are used (it says how many standards are
///         needed); sections, supports or rolling; increasing, discrimination on the way,
///         decreasing; strain; repeatability; what no rulebook asks for.

#include <vector>

#include "proof/plan_choice.h"

namespace weighwright::proof {

struct PlanContext {
  const deck::Deck& deck;
  const rules::Rulebook& rulebook;
  const rules::Scale& scale;
  const PlanRequest& request;
  const Stock& stock;
  const BuildOptions& options;
};

[[nodiscard]] std::vector<Placement> write_plan(const PlanContext& context,
                                                const Solution& solution);

}  // namespace weighwright::proof
