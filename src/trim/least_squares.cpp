#include "trim/least_squares.h"

#include <Eigen/QR>
#include <limits>
#include <stdexcept>

namespace weighwright::trim {

LeastSquares least_squares(const Eigen::MatrixXd& a, const Eigen::VectorXd& y) {
  if (a.rows() < 1 || a.cols() < 1 || a.rows() != y.size() || !a.allFinite() || !y.allFinite()) {
    throw std::invalid_argument("least_squares: one finite row and one value for each observation");
  }
  Eigen::VectorXd scale = a.colwise().norm().transpose();
  for (double& length : scale) length = length > 0.0 ? 1.0 / length : 1.0;
  const Eigen::CompleteOrthogonalDecomposition<Eigen::MatrixXd> decomposition(a *
                                                                              scale.asDiagonal());
  LeastSquares result;
  const Eigen::MatrixXd scaled_solver = decomposition.pseudoInverse();
  result.solver = scale.asDiagonal() * scaled_solver;
  // The decomposition's own solve keeps more digits than a product with the inverse.
  result.x = scale.asDiagonal() * decomposition.solve(y);
  result.seen = result.solver * a;
  result.residual = y - a * result.x;
  result.rank = static_cast<int>(decomposition.rank());
  return result;
}

}  // namespace weighwright::trim
