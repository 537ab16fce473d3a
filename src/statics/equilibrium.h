#pragma once
/// Rigid-body equilibrium of the bodies: which motions nothing stops, which forces need no load.

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "statics/model.h"

namespace weighwright::statics {

/// E: rows 3 b, 3 b + 1, 3 b + 2 are force, x-moment and y-moment of body b (about x = y = 0).
[[nodiscard]] Eigen::MatrixXd equilibrium_matrix(const std::vector<Contact>& contacts, int bodies);

/// The same equations scaled to be well conditioned: moments about each body's own middle over its
/// own size. scaled = scaling * E, scaling invertible.
[[nodiscard]] Eigen::MatrixXd equilibrium_scaling(const std::vector<Contact>& contacts, int bodies);

/// A motion that no contact hinders.
struct FreeMotion {
  int body = 0;        // that moves most
  double rise = 0.0;   // of its middle; the greatest of the three is 1
  double pitch = 0.0;  // of its ends against its middle
  double roll = 0.0;   // of its sides against its middle
};
[[nodiscard]] std::optional<FreeMotion> find_free_motion(const Eigen::MatrixXd& equilibrium,
                                                         const Eigen::MatrixXd& scaling);

/// Minimum-norm forces for a resultant, m x 3b. @pre no free motion
[[nodiscard]] Eigen::MatrixXd particular_forces(const Eigen::MatrixXd& equilibrium,
                                                const Eigen::MatrixXd& scaling);

/// N, see Model::redundants. @pre no free motion
[[nodiscard]] Eigen::MatrixXd redundant_forces(const Eigen::MatrixXd& equilibrium,
                                               const Eigen::MatrixXd& scaling,
                                               const Eigen::MatrixXd& stand_of_contact);

}  // namespace weighwright::statics
