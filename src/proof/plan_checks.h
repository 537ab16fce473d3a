#pragma once
/// What speaks against a plan before anyone drives: cells, CLC, edges, Min, Max, axles, quality of
/// the standards.
///
/// Cells   the load of every placement, spread evenly over its patch, on top of the deck's own
///         weight, by the contact model at level stand tops (statics); against the rated capacity
///         of each cell.

#include <string>
#include <vector>

#include "proof/test_plan.h"

namespace weighwright::proof {

[[nodiscard]] std::vector<PlanFinding> check_plan(const deck::Deck& deck,
                                                  const statics::Model& model,
                                                  const rules::Rulebook& rulebook,
                                                  const rules::Scale& scale,
                                                  const PlanRequest& request,
                                                  const std::vector<Placement>& placements);

/// The most that may stand on any one section: the CLC where it is stated, else what its cells bear
/// beside the dead load (the section that bears least).
struct SectionRoom {
  double kg = 0.0;
  std::string because;
};
[[nodiscard]] SectionRoom least_room(const deck::Deck& deck,
                                     const statics::Model& model,
                                     const rules::Rulebook& rulebook,
                                     const rules::Scale& scale);

}  // namespace weighwright::proof
