#include "share/pairs.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace weighwright::share {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

double least_V(const deck::Deck& deck, const Evidence& evidence, int stand) {
  const std::optional<double>& least_kg = deck.stands[at(stand)].cell.least_load_kg;
  if (!least_kg) return -std::numeric_limits<double>::infinity();
  return *least_kg * deck.site.gravity_m_per_s2 * evidence.last[at(stand)].sensitivity_V_per_N;
}

}  // namespace

std::vector<Pair> judge_pairs(const deck::Deck& deck, const Evidence& evidence) {
  std::vector<Pair> pairs;
  const Eigen::VectorXd& force = evidence.states.back().force_N;
  for (int k = 0; k < static_cast<int>(deck.sections.size()); ++k) {
    Pair pair;
    pair.section = units::SectionIndex{k};
    pair.left_V = force(2 * k) * evidence.last[at(2 * k)].sensitivity_V_per_N;
    pair.right_V = force(2 * k + 1) * evidence.last[at(2 * k + 1)].sensitivity_V_per_N;
    pair.difference_V = pair.left_V - pair.right_V;
    pair.difference_N = force(2 * k) - force(2 * k + 1);
    const double mean_V = (pair.left_V + pair.right_V) / 2.0;
    pair.share_of_mean = mean_V > 0.0 ? std::abs(pair.difference_V) / mean_V
                                      : std::numeric_limits<double>::infinity();
    pair.tolerance_V = std::numeric_limits<double>::infinity();
    if (deck.sharing.tolerance_V) pair.tolerance_V = *deck.sharing.tolerance_V;
    if (deck.sharing.tolerance_share) {
      pair.tolerance_V =
          std::min(pair.tolerance_V, *deck.sharing.tolerance_share * std::max(mean_V, 0.0));
    }
    pair.under_quarter =
        std::min(pair.left_V, pair.right_V) < kLeastShareOfPair * (pair.left_V + pair.right_V);
    pair.under_least = pair.left_V < least_V(deck, evidence, 2 * k) ||
                       pair.right_V < least_V(deck, evidence, 2 * k + 1);
    pair.within = std::abs(pair.difference_V) <= pair.tolerance_V * (1.0 + 1e-9) &&
                  !pair.under_quarter && !pair.under_least;
    pairs.push_back(pair);
  }
  return pairs;
}

Goal goal_of(const deck::Deck& deck, const Evidence& evidence, const std::vector<Pair>& pairs) {
  Goal goal;
  goal.tolerance_V.resize(static_cast<int>(pairs.size()));
  goal.least_V.resize(deck.stand_count());
  for (int k = 0; k < static_cast<int>(pairs.size()); ++k) {
    goal.tolerance_V(k) = std::max(pairs[at(k)].tolerance_V, 1e-9);
    for (const int stand : {2 * k, 2 * k + 1}) goal.least_V(stand) = least_V(deck, evidence, stand);
  }
  return goal;
}

}  // namespace weighwright::share
