#include "proof/correlated.h"

#include <cmath>

namespace weighwright::proof {

Eigen::MatrixXd propagate(const Eigen::MatrixXd& sensitivity, const Eigen::MatrixXd& covariance) {
  return sensitivity * covariance * sensitivity.transpose();
}

Eigen::MatrixXd covariance_of_means(const Eigen::MatrixXd& readings) {
  const Eigen::MatrixXd away = readings.rowwise() - readings.colwise().mean();
  const auto count = static_cast<double>(readings.rows());
  return away.transpose() * away / (count * (count - 1.0));
}

Eigen::MatrixXd correlation(const Eigen::MatrixXd& covariance) {
  Eigen::VectorXd scale = covariance.diagonal();
  for (double& variance : scale) variance = variance > 0.0 ? 1.0 / std::sqrt(variance) : 0.0;
  return scale.asDiagonal() * covariance * scale.asDiagonal();
}

}  // namespace weighwright::proof
