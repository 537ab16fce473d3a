#include "signal/fit.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <limits>

namespace weighwright::signal {
namespace {

constexpr double kStep = 1e-3;  // of a prior standard deviation
constexpr int kMostSteps = 25;
constexpr double kFarthest = 8.0;  // prior standard deviations: models end before infinity
constexpr double kDone = 1e-3;  // of the objective: a thousandth of a nat, or of a hopeless misfit
constexpr double kLeastDamping = 1e-6;
constexpr double kMostDamping = 1e8;

double objective(const Eigen::VectorXd& deviations, const Eigen::VectorXd& parameters) {
  return deviations.squaredNorm() + parameters.squaredNorm();
}

Eigen::MatrixXd information(const Eigen::MatrixXd& slope) {
  const Eigen::Index n = slope.cols();
  return Eigen::MatrixXd::Identity(n, n) + slope.transpose() * slope;
}

/// One damped step; false when no step makes it better.
bool improve(const Deviations& of, Fit& best, double& damping) {
  const Eigen::MatrixXd slope = slopes(of, best.parameters);
  const Eigen::MatrixXd curvature = information(slope);
  const Eigen::VectorXd down = -(slope.transpose() * best.deviations + best.parameters);
  const double before = objective(best.deviations, best.parameters);
  for (; damping < kMostDamping; damping *= 10.0) {
    Eigen::MatrixXd damped = curvature;
    damped.diagonal() *= 1.0 + damping;
    const Eigen::VectorXd parameters =
        (best.parameters + damped.llt().solve(down)).cwiseMax(-kFarthest).cwiseMin(kFarthest);
    const Eigen::VectorXd deviations = of(parameters);
    const double after = objective(deviations, parameters);
    if (!(after < before)) continue;
    best.parameters = parameters;
    best.deviations = deviations;
    damping = std::max(damping * 0.1, kLeastDamping);
    return before - after > kDone * (1.0 + 0.1 * before);
  }
  return false;
}

}  // namespace

Eigen::MatrixXd slopes(const Deviations& deviations, const Eigen::VectorXd& parameters) {
  Eigen::MatrixXd slope;
  for (Eigen::Index p = 0; p < parameters.size(); ++p) {
    Eigen::VectorXd moved = parameters;
    moved(p) += kStep;
    Eigen::VectorXd change = deviations(moved);
    moved(p) -= 2.0 * kStep;
    change -= deviations(moved);
    if (p == 0) slope.resize(change.size(), parameters.size());
    slope.col(p) = change / (2.0 * kStep);
  }
  return slope;
}

Eigen::MatrixXd covariance(const Eigen::MatrixXd& slopes) {
  const Eigen::Index n = slopes.cols();
  return information(slopes).llt().solve(Eigen::MatrixXd::Identity(n, n));
}

Fit fit(const Deviations& deviations, const std::vector<Eigen::VectorXd>& starts) {
  Fit best;
  double least = std::numeric_limits<double>::infinity();
  for (const Eigen::VectorXd& start : starts) {
    Fit one{start, deviations(start), 0.0};
    double damping = 1e-3;
    for (int step = 0; step < kMostSteps && improve(deviations, one, damping); ++step) {
    }
    const double reached = objective(one.deviations, one.parameters);
    if (reached < least || best.parameters.size() == 0) {
      least = reached;
      best = one;
    }
  }
  const Eigen::MatrixXd factor = information(slopes(deviations, best.parameters)).llt().matrixL();
  best.log_evidence = -0.5 * least - factor.diagonal().array().log().sum();
  return best;
}

}  // namespace weighwright::signal
