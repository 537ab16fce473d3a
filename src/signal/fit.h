#pragma once
/// Most probable parameters of a model with standard normal priors, and how probable its data are.
///
/// Model   minimum of |r(p)|^2 + |p|^2 by damped Gauss-Newton from several starts; r: deviations in
///         standard units. Evidence by Laplace's approximation about the best minimum,
///         -1/2 (|r|^2 + |p|^2) - 1/2 ln det(I + J'J), leaving out what all models share.
/// Limits  Parameters stay within 8 prior standard deviations. The best of the starts' minima; the
/// others' share of the evidence is left out.

#include <Eigen/Core>
#include <functional>
#include <vector>

namespace weighwright::signal {

using Deviations = std::function<Eigen::VectorXd(const Eigen::VectorXd& parameters)>;

struct Fit {
  Eigen::VectorXd parameters;
  Eigen::VectorXd deviations;
  double log_evidence = 0.0;
};

[[nodiscard]] Fit fit(const Deviations& deviations, const std::vector<Eigen::VectorXd>& starts);

/// dr/dp by central differences, one column a parameter.
[[nodiscard]] Eigen::MatrixXd slopes(const Deviations& deviations,
                                     const Eigen::VectorXd& parameters);

/// (I + J'J)^-1: covariance of the parameters when the readings are known.
[[nodiscard]] Eigen::MatrixXd covariance(const Eigen::MatrixXd& slopes);

}  // namespace weighwright::signal
