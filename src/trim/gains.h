#pragma once
/// How much every cell's path to the display weighs, from shift readings, and how sure.
///
/// Model   indication_p = W_p sum_i a_pi g_i exp(f_i(epoch)),  a from the statics, f from the trims
///         as they stood (elements.h). Unknown: g (N), the unknown loads, and the effect of one
///         turn where no file states it. Gauss-Newton on a problem that is nearly linear (gains
///         within a few parts in a hundred of one another); each step by least_squares.h.
/// Gauge   only ratios of gains matter. Where no load is known the first unknown one is set to the
///         mean of what was indicated under it.
/// Spread  of the readings beyond their stated uncertainty widens everything (Birge: R. T. Birge,
///         Phys. Rev. 40 (1932) 207; from memory, unverified) where at least three readings are
///         left over.

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "trim/elements.h"
#include "trim/placements.h"

namespace weighwright::trim {

/// What one turn clockwise does, as far as the readings tell.
struct TurnLearned {
  double effect = 0.0;  // change of ln(reading) of the trim's own cell
  double u = 0.0;       // standard uncertainty
  bool sure = false;    // known to a quarter of itself (4 u), and its sign beyond doubt
};

struct GainFit {
  Eigen::VectorXd log_gain;     // N, as the trims stand now, less the mean
  Eigen::MatrixXd covariance;   // N x N, of log_gain
  Eigen::MatrixXd seen;         // N x N + others: see is_determined
  Eigen::VectorXd effects_now;  // K: where every trim stands
  // What one standard deviation of every reading (rows scaled so) does: to the log gains as they
  // were before any trim of unknown turn was moved (N x m), and to the effect of a turn in each
  // box (0 where nothing is learned). Covariances of later settings come from both together.
  Eigen::MatrixXd gain_root;
  Eigen::MatrixXd turn_root;   // m x boxes
  Eigen::VectorXd turned_now;  // K: turns made so far of which the effect was to be learned
  std::vector<double> unknown_kg;
  // By box; empty: nobody turned a trim there whose effect is unknown.
  std::vector<std::optional<TurnLearned>> turns;
  // Of the box where a trim was turned last.
  std::optional<TurnLearned> turn;
  Eigen::VectorXd fitted_kg;  // per placement
  Eigen::VectorXd residual_kg;
  Eigen::VectorXd leverage;  // per placement, 0 ... 1
  double chi_square = 0.0;   // with the stated uncertainties
  int freedoms = 0;          // readings less what they determine
  double widened = 1.0;      // factor by which uncertainties were widened, >= 1
  double common = 1.0;       // mean gain now: indication over load; 1 where no load is known
};

/// @pre shifts.placed is not empty
[[nodiscard]] GainFit fit_gains(const Shifts& shifts, const std::vector<Element>& elements);

/// d(log gain of every stand, less the mean) / d(effect of one turn in a box), N, after these turns
/// (K).
[[nodiscard]] Eigen::VectorXd turn_slope(const std::vector<Element>& elements,
                                         const Eigen::VectorXd& turned,
                                         int box,
                                         int stands);

/// Whether the readings determine a combination of gains (N, sum 0).
[[nodiscard]] bool is_determined(const GainFit& fit, const Eigen::VectorXd& combination);

}  // namespace weighwright::trim
