#pragma once
/// The deck with its contacts as found: what opens stays open, what presses stays pressing.

#include <Eigen/Core>
#include <vector>

#include "statics/contact.h"
#include "statics/model.h"

namespace weighwright::statics {

/// Response to a change of the drive g (see Model), one column each.
struct HeldResponse {
  Eigen::MatrixXd contact_N;  // m x k, zero at open contacts
  Eigen::MatrixXd gap_m;      // m x k, zero at pressing contacts
};

/// @param phi    m x m
/// @param open   contacts without force
/// @param drive  m x k, change of g
[[nodiscard]] HeldResponse respond(const Model& model,
                                   const Eigen::MatrixXd& phi,
                                   const std::vector<int>& open,
                                   const Eigen::MatrixXd& drive);

/// Contact state under a resultant and a drive g, with the given flexibility (m x m).
[[nodiscard]] ContactState solve_driven(const Model& model,
                                        const Eigen::MatrixXd& phi,
                                        const Eigen::VectorXd& resultant,
                                        const Eigen::VectorXd& drive);

/// Rigid motions of the bodies (rise, pitch, roll about x = y = 0; 3b x k) that fit the response at
/// the pressing contacts.
[[nodiscard]] Eigen::MatrixXd rigid_motions(const Model& model,
                                            const Eigen::MatrixXd& phi,
                                            const std::vector<int>& open,
                                            const Eigen::MatrixXd& drive,
                                            const HeldResponse& response);

}  // namespace weighwright::statics
