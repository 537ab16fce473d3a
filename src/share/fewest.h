#pragma once
/// The fewest sections to touch when everything is known and nothing lifts: an exact search.
///
/// Find integer steps x_k (0 where untouched) with  |d + E x| <= t  for every pair, low <= x <=
/// high, fewest sections touched, and among those the least sum of |x|. Method  subsets by size; on
/// each, the integer points of the ball that holds the box are enumerated
///         by sphere decoding (Schnorr & Euchner, Math. Programming 66 (1994) 181-199) with the sum
///         of steps as bound. The optimum is compared with a mixed-integer solver in the tests.

#include <Eigen/Core>
#include <vector>

namespace weighwright::share {

struct FewestProblem {
  Eigen::VectorXd difference;  // p: pair differences now (any unit)
  Eigen::MatrixXd effect;      // p x k: change per step of section k
  Eigen::VectorXd tolerance;   // p, > 0, same unit
  std::vector<int> low;        // k: least and greatest step of each section
  std::vector<int> high;
};

struct FewestPlan {
  bool found = false;
  bool exact = true;       // false: the search was cut at its bound of nodes
  std::vector<int> steps;  // k
  int touched = 0;
  int total = 0;  // sum of |steps|
};

/// @param most_touched  sections that may be touched at most
[[nodiscard]] FewestPlan find_fewest(const FewestProblem& problem, int most_touched);

}  // namespace weighwright::share
