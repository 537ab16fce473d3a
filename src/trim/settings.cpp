#include "trim/settings.h"

#include <cmath>
#include <cstddef>

#include "statics/contact.h"

namespace weighwright::trim {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kUsualTrim = 0.01;      // prior standard deviation of a trim, common practice
constexpr double kLeastPenalty = 1e-10;  // keeps the program strictly convex
constexpr double kUnit = 1e-3;           // variables near 1: effects in parts of a thousand

}  // namespace

Settings best_settings(const std::vector<Element>& elements,
                       const VectorXd& log_gain,
                       double variance,
                       const VectorXd& effects_now,
                       const std::vector<bool>& free) {
  std::vector<std::size_t> moved;
  for (std::size_t k = 0; k < elements.size(); ++k) {
    if (free[k]) moved.push_back(k);
  }
  const Index stands = log_gain.size();
  const auto count = static_cast<Index>(moved.size());

  // Columns: one a trim that may move, then mu.
  MatrixXd acts = MatrixXd::Zero(stands, count + 1);
  for (Index c = 0; c < count; ++c) {
    for (const int stand : elements[moved[static_cast<std::size_t>(c)]].stands)
      acts(stand, c) = 1.0;
  }
  acts.col(count).setConstant(-1.0);
  MatrixXd curvature = acts.transpose() * acts;
  const double penalty = std::max(kLeastPenalty, variance / (kUsualTrim * kUsualTrim));
  curvature.diagonal().head(count).array() += penalty;
  curvature(count, count) += kLeastPenalty;
  const VectorXd target = -acts.transpose() * log_gain / kUnit;

  // effect + delta - lowest >= 0 and highest - effect - delta >= 0, where an end is known.
  std::vector<std::pair<Index, double>> rows;  // sign * (column + 1), constant
  for (Index c = 0; c < count; ++c) {
    const std::size_t k = moved[static_cast<std::size_t>(c)];
    const double now = effects_now(static_cast<Index>(k));
    // A trim that stands beyond its believed end may stay there, but go no further.
    const double down = std::max(0.0, now - elements[k].lowest) / kUnit;
    const double up = std::max(0.0, elements[k].highest - now) / kUnit;
    if (std::isfinite(down)) rows.emplace_back(c + 1, down);
    if (std::isfinite(up)) rows.emplace_back(-(c + 1), up);
  }
  const auto limits = static_cast<Index>(rows.size());
  MatrixXd a = MatrixXd::Zero(count + 1, limits);
  VectorXd b(limits);
  for (Index i = 0; i < limits; ++i) {
    const auto& [signed_column, room] = rows[static_cast<std::size_t>(i)];
    a(std::abs(signed_column) - 1, i) = signed_column > 0 ? 1.0 : -1.0;
    b(i) = room;
  }
  const statics::QpSolution solved = statics::solve_contact_qp(curvature, target, a, b);

  Settings settings;
  settings.change = VectorXd::Zero(static_cast<Index>(elements.size()));
  settings.at_end.assign(elements.size(), false);
  for (Index c = 0; c < count; ++c) {
    settings.change(static_cast<Index>(moved[static_cast<std::size_t>(c)])) = solved.q(c) * kUnit;
  }
  for (const int limit : solved.active) {
    const Index signed_column = rows[static_cast<std::size_t>(limit)].first;
    // The lowest trim of an attenuating box rests at its end with no wish to go further.
    if (solved.multiplier(limit) * kUnit <= kLeastPenalty) continue;
    settings.at_end[moved[static_cast<std::size_t>(std::abs(signed_column) - 1)]] = true;
  }
  settings.log_gain = log_gain + acts.leftCols(count) * solved.q.head(count) * kUnit;
  settings.log_gain.array() -= settings.log_gain.mean();
  return settings;
}

}  // namespace weighwright::trim
