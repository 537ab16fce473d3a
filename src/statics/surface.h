#pragma once
/// Influence surface of stands over the deck, axle groups, and what a jack at a stand does.

#include <Eigen/Core>
#include <string>
#include <vector>

#include "statics/contact.h"
#include "statics/model.h"

namespace weighwright::statics {

/// Share of a unit load at each of the given points that every stand takes, contacts held as found:
/// points x stands, rows sum to 1. By reciprocity (Maxwell-Betti): one solve a stand.
/// A load between girders is shared by the lever rule, as in point_loads.
/// Limits: the open contacts must not leave the deck a mechanism.
/// @throws std::invalid_argument when a point is off the deck
[[nodiscard]] Eigen::MatrixXd influence_surface(const Model& model,
                                                const ContactState& state,
                                                const Scales& scales,
                                                const std::vector<PointLoad>& points);

/// Wheel loads of an axle group: axles at x + offset, each shared by a left and a right wheel.
/// @param offsets_m  of each axle from the first one, towards end 2
/// @param axle_N     load of each axle
/// @param track_m    left to right wheel
[[nodiscard]] std::vector<PointLoad> axle_group(double x_m,
                                                double y_m,
                                                const std::vector<double>& offsets_m,
                                                const std::vector<double>& axle_N,
                                                double track_m);

/// What happens when a stand's place is lifted by a jack beside it.
struct JackState {
  double force_N = 0.0;      // on the jack
  Eigen::VectorXd stand_N;   // s, all stands while lifted
  std::vector<int> open;     // contacts open
  double free_lift_m = 0.0;  // lift at which the jacked stand itself carries nothing
  double most_lift_m = 0.0;  // before another stand or a bearing opens; infinite: none does
  std::string limited_by;    // "2R" or "bearing A-B right"; empty: nothing
  ContactStatus status = ContactStatus::solved;
  std::string what;  // why not, when it is not solved
};

/// The jack is a rigid support at the stand's own place, so that the stand's share goes over to it;
/// one jack on one side only (both sides of a section lifted together is another case).
/// @param lift_m  rise of the deck at that stand above where it rests now, >= 0
/// @throws std::invalid_argument when there is no such stand or the lift is negative or not finite
[[nodiscard]] JackState jack(const Model& model,
                             const LoadCase& load,
                             const Eigen::VectorXd& heights_m,
                             const Scales& scales,
                             units::StandIndex stand,
                             double lift_m);

}  // namespace weighwright::statics
