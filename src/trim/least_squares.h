#pragma once
/// Linear least squares that says what it could not determine.
///
/// Solve   min |A x - y|, of all minima the shortest x (columns scaled to unit length first).
/// Method  complete orthogonal decomposition (Golub & Van Loan, Matrix Computations, 4th ed.,
///         section 5.5); normal equations are never formed.
/// Checked NIST Statistical Reference Datasets, linear regression (tests/trim).

#include <Eigen/Core>

namespace weighwright::trim {

struct LeastSquares {
  Eigen::VectorXd x;         // n
  Eigen::MatrixXd solver;    // n x m: x = solver * y; covariance of x is solver * solver' where the
                             // rows of A and y are in units of their standard uncertainty
  Eigen::MatrixXd seen;      // n x n projector: a combination c'x is determined iff c'seen = c'
  Eigen::VectorXd residual;  // m: y - A x
  int rank = 0;
};

/// @param a  m x n, m >= 1, n >= 1
/// @param y  m
/// @throws std::invalid_argument when sizes do not fit or an entry is not finite
[[nodiscard]] LeastSquares least_squares(const Eigen::MatrixXd& a, const Eigen::VectorXd& y);

}  // namespace weighwright::trim
