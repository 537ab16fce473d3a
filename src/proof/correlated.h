#pragma once
/// Several results from inputs that are correlated.
///
/// Source  JCGM 100:2008, 5.2.2 eq. (13) and H.2.3 (several outputs); 5.2.3 eq. (17) (covariance of
///         two means of readings taken together); 5.2.2 eq. (14) (correlation coefficient).

#include <Eigen/Core>

namespace weighwright::proof {

/// Covariance of outputs, m x m. @param sensitivity  m x n: d output / d input
/// @param covariance  n x n of the inputs
[[nodiscard]] Eigen::MatrixXd propagate(const Eigen::MatrixXd& sensitivity,
                                        const Eigen::MatrixXd& covariance);

/// Covariance of the means. @param readings  one set a row, one quantity a column; two rows or more
[[nodiscard]] Eigen::MatrixXd covariance_of_means(const Eigen::MatrixXd& readings);

/// Correlation coefficients; 0 beside a quantity without uncertainty.
[[nodiscard]] Eigen::MatrixXd correlation(const Eigen::MatrixXd& covariance);

}  // namespace weighwright::proof
