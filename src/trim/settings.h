#pragma once
/// All trims at once: the changes that make every stand weigh the same, within what the trims can
/// do.
///
/// Solve   min sum_i (gamma_i + sum_{k acts on i} delta_k - mu)^2 + penalty sum_k delta_k^2
///         subject to lowest_k <= effect_k + delta_k <= highest_k,  mu free.
///         A strictly convex quadratic program, solved by the dual active set of
///         statics/contact.h (Goldfarb & Idnani 1983). mu: only ratios matter, so trims that can
///         only attenuate come down to the lowest reading.
/// Why a penalty: plain least squares lets trims fight one another for nothing (Goodman 1964,
///         discussion by Heymann, on influence-coefficient balancing); it is the weight of a prior
///         of 1 % on each trim against the uncertainty of the gains.

#include <Eigen/Core>
#include <vector>

#include "trim/elements.h"

namespace weighwright::trim {

struct Settings {
  Eigen::VectorXd change;    // K, of effects
  Eigen::VectorXd log_gain;  // N, left after the change, less the mean
  std::vector<bool> at_end;  // K: a trim that would go further if it could
};

/// @param log_gain     N, as the trims stand now
/// @param variance     mean variance of log_gain, for the penalty
/// @param effects_now  K
/// @param free         K: which trims may be moved
[[nodiscard]] Settings best_settings(const std::vector<Element>& elements,
                                     const Eigen::VectorXd& log_gain,
                                     double variance,
                                     const Eigen::VectorXd& effects_now,
                                     const std::vector<bool>& free);

}  // namespace weighwright::trim
