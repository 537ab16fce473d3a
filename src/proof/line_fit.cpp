#include "proof/line_fit.h"

#include <Eigen/QR>
#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <cstddef>

namespace weighwright::proof {
namespace {

/// Powers of x over its greatest size, so that columns are alike in length.
struct Scaled {
  Eigen::MatrixXd design;  // weighted
  Eigen::VectorXd target;  // weighted
  Eigen::VectorXd back;    // scaled coefficient to real one
};

Scaled scaled(std::span<const double> x,
              std::span<const double> y,
              std::span<const double> u_y,
              int degree) {
  double size = 0.0;
  for (const double value : x) size = std::max(size, std::abs(value));
  if (!(size > 0.0)) size = 1.0;
  const auto rows = static_cast<Eigen::Index>(x.size());
  Scaled problem{Eigen::MatrixXd(rows, degree + 1), Eigen::VectorXd(rows),
                 Eigen::VectorXd(degree + 1)};
  for (Eigen::Index row = 0; row < rows; ++row) {
    const auto i = static_cast<std::size_t>(row);
    const double weight = u_y.empty() ? 1.0 : 1.0 / u_y[i];
    double power = weight;
    for (int j = 0; j <= degree; ++j, power *= x[i] / size) problem.design(row, j) = power;
    problem.target(row) = weight * y[i];
  }
  for (int j = 0; j <= degree; ++j) problem.back(j) = std::pow(size, -j);
  return problem;
}

Eigen::VectorXd powers(double x, Eigen::Index count) {
  Eigen::VectorXd all(count);
  double power = 1.0;
  for (double& value : all) {
    value = power;
    power *= x;
  }
  return all;
}

}  // namespace

std::optional<LineFit> fit_polynomial(std::span<const double> x,
                                      std::span<const double> y,
                                      std::span<const double> u_y,
                                      int degree) {
  const int dof = static_cast<int>(x.size()) - degree - 1;
  const bool sizes = x.size() == y.size() && (u_y.empty() || u_y.size() == y.size());
  if (degree < 0 || !sizes || dof < (u_y.empty() ? 1 : 0)) return std::nullopt;
  const Scaled problem = scaled(x, y, u_y, degree);
  const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(problem.design);
  if (qr.rank() < degree + 1) return std::nullopt;
  const Eigen::VectorXd found = qr.solve(problem.target);
  LineFit fit;
  fit.dof = dof;
  fit.chi_squared = (problem.target - problem.design * found).squaredNorm();
  fit.residual_s = dof > 0 ? std::sqrt(fit.chi_squared / dof) : 0.0;
  fit.coefficients = problem.back.cwiseProduct(found);
  // (A'A)^-1 = G G' with G the pseudo-inverse: A itself is never squared.
  const Eigen::MatrixXd inverse =
      qr.solve(Eigen::MatrixXd::Identity(problem.design.rows(), problem.design.rows()));
  const double variance = u_y.empty() ? fit.residual_s * fit.residual_s : 1.0;
  fit.covariance = variance * problem.back.asDiagonal() * inverse * inverse.transpose() *
                   problem.back.asDiagonal();
  return fit;
}

FittedValue value_at(const LineFit& fit, double x) {
  const Eigen::VectorXd at = powers(x, fit.coefficients.size());
  return {at.dot(fit.coefficients), std::sqrt(std::max(0.0, at.dot(fit.covariance * at)))};
}

double chi_squared_limit(int dof, double p) {
  return boost::math::quantile(boost::math::chi_squared(dof), p);
}

}  // namespace weighwright::proof
