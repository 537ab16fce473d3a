#pragma once
/// The first box as a meter sees it, with a fault in it or in one of its cells.
///
/// Model   All cells and chained boxes behind the first box's terminals, home cable off for ohms,
/// on
///         for volts. Common free quantities: all resistances, pads, zeros, forces, supply,
///         insulation. Beside the cells' own faults (fault_kinds.cpp): a sense core broken, a bad
///         contact in the supply, no supply, a leak or a touch at the box.
/// Limits  The common quantities act linearly about the papers' values.

#include <Eigen/Core>
#include <vector>

#include "signal/circuit.h"
#include "signal/explanation.h"

namespace weighwright::signal {

struct BoxPrior {
  Wiring wiring;
  Eigen::VectorXd dead_N;
  double total_share = 0.03;  // relative standard deviation of all forces together
  double zero_spread = 0.01;  // of rated output, one cell
  // Of what all cells have in common: relative (output: natural logarithm), standard deviation.
  double output_spread = 0.005;
  double pads_spread = 0.01;    // of the output resistance
  double supply_spread = 0.02;  // of the indicator's supply, relative
};

/// @param cells  what was found of cells that were measured alone: it weighs their faults here
[[nodiscard]] std::vector<Explanation> box_explanations(const BoxPrior& prior,
                                                        const std::vector<Diagnosis>& cells,
                                                        double meter_ohm);

}  // namespace weighwright::signal
