#pragma once
/// What a Model keeps of its grillages: to answer for loads and surfaces, and names for messages.

#include <string>
#include <vector>

#include "statics/grillage.h"
#include "statics/model.h"

namespace weighwright::statics {

/// A contact on one body: its seat there, and the sign of its force (up on the body above, down on
/// the body below).
struct Grip {
  int contact = 0;
  double sign = 1.0;
};

struct Model::Grillages {
  std::vector<Grillage> bodies;
  std::vector<std::vector<Grip>> grips;  // per body, in seat order
  std::vector<int> body_of_module;
  std::vector<std::string> marks;  // per module
  std::vector<double> starts_m;    // per module, and the end of the deck
  std::vector<double> widths_m;    // per module
  std::vector<int> partner;        // per contact: the one on the other side

  /// Module under x; empty off the deck. A joint line counts to the module nearer end 1.
  [[nodiscard]] int module_at(double x_m) const;
};

/// Load case of nodal forces (down positive) on one body with the given resultant about the origin.
[[nodiscard]] LoadCase condense(const Model& model,
                                int body,
                                const Eigen::VectorXd& nodal_N,
                                const Eigen::Vector3d& resultant);

/// Load case of nothing.
[[nodiscard]] LoadCase no_load(const Model& model);

/// "module A", or "modules A to C".
[[nodiscard]] std::string print_body(const Model& model, int body);

/// Mirrors the contacts: columns of a pair change places.
[[nodiscard]] Eigen::VectorXd mirrored(const Model& model, const Eigen::VectorXd& per_contact);

}  // namespace weighwright::statics
