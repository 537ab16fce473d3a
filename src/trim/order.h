#pragma once
/// The same settings in the order that a technician used to trimming corners recognises: pairs
/// first, then section against section at their mid-points (common practice, no source); and what
/// each way costs in weight moves.

#include <Eigen/Core>
#include <vector>

#include "trim/elements.h"

namespace weighwright::trim {

/// One step of the guided order: the trims in it are moved by these changes of their effects.
struct OrderStep {
  bool is_pair = false;  // one trim of a pair brought to the other; else a section as a whole
  int section = 0;       // from 0
  std::vector<std::pair<int, double>> changes;  // element, change of effect
};

/// Steps that add up to `change`, one a pair that needs it, then one a section that needs it.
/// @param least  effects below this are no step
[[nodiscard]] std::vector<OrderStep> guided_order(const std::vector<Element>& elements,
                                                  const Eigen::VectorXd& change,
                                                  double least);

/// Weight moves (times that the load is set down somewhere else).
struct MoveCosts {
  int at_once = 0;  // read every place, set all trims, read every place again
  int guided = 0;   // pairs first, then sections, then every place once to prove it
  int places = 0;   // that one full reading takes
};

/// @param places  that one full reading takes
[[nodiscard]] MoveCosts move_costs(int sections, int places);

}  // namespace weighwright::trim
