#pragma once
/// A straight line or a low polynomial through measured points, and how sure it is anywhere: the
/// error of a scale between the loads that were put on.
///
/// Model   y = c0 + c1 x + c2 x^2 ..., uncertainties in y only.
/// Source  weighted: ISO/TS 28037:2010, 6 (line), chi-square check there; unweighted: JCGM
///         100:2008, H.3. Solved by Householder QR of the scaled problem (Golub & Van Loan, Matrix
///         Computations, 4th ed., 5.3); normal equations are never formed.

#include <Eigen/Core>
#include <optional>
#include <span>

namespace weighwright::proof {

struct LineFit {
  Eigen::VectorXd coefficients;  // c0, c1, ...
  Eigen::MatrixXd covariance;    // of them
  double chi_squared = 0.0;      // weighted sum of squares of residuals; unweighted: plain
  double residual_s = 0.0;       // sqrt(chi_squared / dof); 0 without degrees of freedom
  int dof = 0;
};

/// @param u_y  standard uncertainties, > 0, which then make the covariance; empty: unknown, all
///             alike, taken from the residuals
/// @return nothing where the points do not determine the polynomial (or u_y is empty and no degree
///         of freedom is left), or where sizes do not fit
[[nodiscard]] std::optional<LineFit> fit_polynomial(std::span<const double> x,
                                                    std::span<const double> y,
                                                    std::span<const double> u_y,
                                                    int degree);

struct FittedValue {
  double value = 0.0;
  double u = 0.0;  // standard
};
[[nodiscard]] FittedValue value_at(const LineFit& fit, double x);

/// A weighted fit agrees with its uncertainties where chi_squared is not above this.
[[nodiscard]] double chi_squared_limit(int dof, double p = 0.95);

}  // namespace weighwright::proof
