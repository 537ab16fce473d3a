#pragma once
/// What is believed of a deck after all readings and turns: equally weighted samples.
///
/// Unknown    stiffness factors of the bodies, the mismatch H (m) of the stand heights on the
/// redundants,
///            the error of every turn made, the determinate contact forces (masses, centres of
///            gravity).
/// Model      exact contact in every likelihood: a stand or bearing that carries nothing tells its
/// height
///            from one side only, so the posterior has half-lines and no mean and covariance would
///            do.
/// Method     the last state is met exactly: given stiffness, its readings fix the redundants q;
/// where a
///            contact hangs, its open gap is drawn from the truncated normal that the prior leaves
///            (sequentially, as in the Geweke-Hajivassiliou-Keane simulator). Earlier states enter
///            by tempering (Del Moral, Doucet & Jasra, J. R. Stat. Soc. B 68 (2006) 411-436) with
///            two kinds of moves: one changes stiffness and keeps q and gaps, one is differential
///            evolution (ter Braak, Statistics and Computing 16 (2006) 239-249).
/// Repeats    the seed is a hash of deck and events: same input, same samples, on any machine.
///            docs/theory/share.md.

#include <Eigen/Core>
#include <cstdint>
#include <vector>

#include "share/evidence.h"
#include "share/reduced.h"
#include "statics/dual_active_set.h"

namespace weighwright::share {

/// One possible deck, at its last state.
struct Sample {
  std::vector<double> factor;  // per Reduced::parameters, on the deck file's stiffness
  std::vector<double> turn_z;  // standardised error of every turn made so far
  Eigen::VectorXd mismatch_m;  // r: H at the last state
  Eigen::VectorXd offset_N;    // m: determinate contact forces
  Eigen::VectorXd q_N;         // r: redundants at the last state
  Eigen::VectorXd
      bias_N;  // r: part of the last reading that is not load (zeros), on the redundants
  Eigen::MatrixXd inverse;    // r x r: inverse flexibility at these factors, N/m
  Eigen::VectorXd dead_m;     // r: dead-load mismatch at these factors
  std::vector<int> active;    // contacts that carry nothing at the last state
  std::vector<double> gap_m;  // per active: air
};

struct Belief {
  std::vector<Sample> samples;
  double fit = 0.0;           // greatest over states of the median misfit, in standard deviations
  double evidence_log = 0.0;  // logarithm of the probability of the readings, up to a constant
};

/// @param particles  number of samples wanted, >= 20
[[nodiscard]] Belief fit(const Reduced& reduced,
                         const Evidence& evidence,
                         int particles,
                         std::uint64_t seed);

}  // namespace weighwright::share
