#include "share/fewest.h"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace weighwright::share {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr long kMostNodes = 4'000'000;
constexpr double kRound = 1e-9;  // of the tolerance: a plan exactly on the limit counts as within

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Depth-first over the integer points of one subset of sections.
class Subset {
 public:
  Subset(const FewestProblem& problem, const std::vector<int>& sections, long& nodes)
      : problem_(problem), sections_(sections), nodes_(nodes) {
    const int k = static_cast<int>(sections.size());
    const VectorXd scale = problem.tolerance.cwiseInverse();
    effect_.resize(problem.difference.size(), k);
    for (int i = 0; i < k; ++i)
      effect_.col(i) = scale.cwiseProduct(problem.effect.col(sections[at(i)]));
    start_ = scale.cwiseProduct(problem.difference);
    const Eigen::HouseholderQR<MatrixXd> qr(effect_);
    r_ = qr.matrixQR().topRows(k).triangularView<Eigen::Upper>();
    const VectorXd turned = qr.householderQ().transpose() * start_;
    centre_ = turned.head(k);
    const double off = turned.tail(turned.size() - k).squaredNorm();
    const double radius = std::sqrt(static_cast<double>(start_.size())) * (1.0 + kRound);
    budget_ = radius * radius - off;
    steps_.assign(at(k), 0);
  }

  /// Least sum of steps below `bound`; empty where there is none.
  std::vector<int> run(int& bound) {
    best_.clear();
    if (budget_ >= 0.0) descend(static_cast<int>(sections_.size()) - 1, budget_, 0, bound);
    return best_;
  }

 private:
  void descend(int level, double budget, int used, int& bound) {
    if (++nodes_ > kMostNodes) return;
    if (level < 0) {
      VectorXd value = start_;
      for (int i = 0; i < static_cast<int>(steps_.size()); ++i)
        value += effect_.col(i) * steps_[at(i)];
      if (value.cwiseAbs().maxCoeff() <= 1.0 + kRound && used < bound) {
        bound = used;
        best_ = steps_;
      }
      return;
    }
    double centre = centre_(level);
    for (int i = level + 1; i < static_cast<int>(steps_.size()); ++i)
      centre += r_(level, i) * steps_[at(i)];
    const double slope = r_(level, level);
    const int section = sections_[at(level)];
    int low = problem_.low[at(section)];
    int high = problem_.high[at(section)];
    if (std::abs(slope) > 1e-12) {
      const double half = std::sqrt(budget) / std::abs(slope);
      const double middle = -centre / slope;
      low = std::max(low, static_cast<int>(std::ceil(std::max(middle - half - 1e-9, -1e6))));
      high = std::min(high, static_cast<int>(std::floor(std::min(middle + half + 1e-9, 1e6))));
    }
    // Small steps first: the bound falls early. A section of the subset that stays at 0 belongs to
    // a smaller subset and was searched there.
    const int farthest = std::max(std::abs(low), std::abs(high));
    for (int size = 1; size <= farthest && used + size + level < bound; ++size) {
      for (const int step : {size, -size}) {
        if (step < low || step > high) continue;
        const double e = centre + slope * step;
        const double rest = budget - e * e;
        if (rest < -1e-9) continue;
        steps_[at(level)] = step;
        descend(level - 1, std::max(rest, 0.0), used + size, bound);
      }
    }
    steps_[at(level)] = 0;
  }

  const FewestProblem& problem_;
  const std::vector<int>& sections_;
  long& nodes_;
  MatrixXd effect_;
  VectorXd start_;
  MatrixXd r_;
  VectorXd centre_;
  double budget_ = 0.0;
  std::vector<int> steps_;
  std::vector<int> best_;
};

/// All subsets of a size, in order.
bool next_subset(std::vector<int>& subset, int count) {
  const int k = static_cast<int>(subset.size());
  for (int i = k - 1; i >= 0; --i) {
    if (subset[at(i)] < count - k + i) {
      ++subset[at(i)];
      for (int j = i + 1; j < k; ++j) subset[at(j)] = subset[at(j - 1)] + 1;
      return true;
    }
  }
  return false;
}

}  // namespace

FewestPlan find_fewest(const FewestProblem& problem, int most_touched) {
  const int sections = static_cast<int>(problem.effect.cols());
  FewestPlan plan;
  plan.steps.assign(at(sections), 0);
  if ((problem.difference.cwiseAbs().array() <= problem.tolerance.array() * (1.0 + kRound)).all()) {
    plan.found = true;
    return plan;
  }
  long nodes = 0;
  const int pairs = static_cast<int>(problem.difference.size());
  for (int size = 1; size <= std::min({most_touched, sections, pairs}); ++size) {
    std::vector<int> subset;
    for (int i = 0; i < size; ++i) subset.push_back(i);
    int bound = 1'000'000;
    do {
      const std::vector<int> steps = Subset(problem, subset, nodes).run(bound);
      if (steps.empty()) continue;
      plan.found = true;
      plan.touched = size;
      plan.total = bound;
      std::fill(plan.steps.begin(), plan.steps.end(), 0);
      for (int i = 0; i < size; ++i) plan.steps[at(subset[at(i)])] = steps[at(i)];
    } while (next_subset(subset, sections));
    if (plan.found) break;
  }
  plan.exact = nodes <= kMostNodes;
  return plan;
}

}  // namespace weighwright::share
