#pragma once
/// Which placements of a load are worth making: optimal design of experiment for the trims.
///
/// Wanted   the mean variance of what the trims need to know: of every trim, its (mean) log gain
///          against the mean of all (a linear, or L-, criterion; A-optimality over contrasts).
/// Method   one placement after the other where it brings most, then exchanges until none brings
///          more (Fedorov's exchange); a prior of 1 % on every gain keeps the start regular.
/// Bound    no set of that many placements can do better than the best continuous design: with
///          directional derivatives d_c at any design, phi >= 2 phi(design) - max d_c (convexity;
///          Kiefer & Wolfowitz, Canadian J. Math. 12 (1960) 363-366, for the theorem that makes it
///          sharp). So "no fewer than" is proved, not searched.
/// Known    loads centred on sections leave the columns of left and right equal: they can never
///          tell left from right.

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "statics/model.h"
#include "trim/elements.h"

namespace weighwright::trim {

struct Candidate {
  record::LoadPlace place;
  std::string name;
  Eigen::VectorXd share;  // N, sums to 1
};

/// Those that no cell is overloaded by: dead load and share of the load within its capacity.
/// @param dead_N  N
[[nodiscard]] std::vector<Candidate> within_capacity(const deck::Deck& deck,
                                                     std::vector<Candidate> candidates,
                                                     const Eigen::VectorXd& dead_N,
                                                     double load_kg);

/// Over every stand, at the middle of every section, and between sections left, middle and right,
/// each moved in as far as the load's whole footprint needs; none where it does not fit at all.
[[nodiscard]] std::vector<Candidate> candidates_of(const deck::Deck& deck,
                                                   const statics::Model& model,
                                                   const std::string& footprint);

/// What the trims need to know: T (trims x N), rows of the combinations of log gains, less their
/// mean. Without trims: every stand.
[[nodiscard]] Eigen::MatrixXd wanted_of(const std::vector<Element>& elements, int stands);

struct Design {
  std::vector<int> chosen;  // candidates, ascending; one may come more than once
  double u_worst = 0.0;     // of a trim, relative; infinite: something stays undetermined
  double u_mean = 0.0;      // root of the mean variance, relative
};

struct DesignProblem {
  std::vector<Candidate> candidates;
  Eigen::MatrixXd wanted;       // T
  Eigen::MatrixXd information;  // N x N, of readings already made; zero: none
  double u_reading = 1.0;       // standard uncertainty of one placement, relative to the load
};

/// The best that was found with so many placements more.
[[nodiscard]] Design best_design(const DesignProblem& problem, int placements);

struct FewestPlacements {
  std::optional<Design> design;  // empty: not within `most`
  int no_fewer_than = 0;         // proved
};

/// The fewest placements whose worst trim is within u_wanted (relative).
[[nodiscard]] FewestPlacements fewest_placements(const DesignProblem& problem,
                                                 double u_wanted,
                                                 int most);

/// The placement that brings most to what the readings leave undetermined or unsure.
/// @pre there are candidates
[[nodiscard]] int next_placement(const DesignProblem& problem);

}  // namespace weighwright::trim
