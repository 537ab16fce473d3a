#include "statics/surface.h"

#include <cmath>
#include <cstddef>
#include <stdexcept>

#include "statics/grillages.h"
#include "statics/held.h"

namespace weighwright::statics {
namespace {

// Forces as the elastic body feels them at the given scales: even part over bend, odd over twist.
Eigen::VectorXd scaled_forces(const Model& model,
                              int body,
                              const Eigen::VectorXd& forces,
                              const Scales& scales) {
  const Eigen::VectorXd image = mirrored(model, forces);
  return 0.5 / scales.bend(body) * (forces + image) + 0.5 / scales.twist(body) * (forces - image);
}

// Freedoms of one body under contact forces.
Eigen::VectorXd deflected(const Model& model, int body, const Eigen::VectorXd& forces) {
  const auto at = static_cast<std::size_t>(body);
  const std::vector<Grip>& grips = model.grillages->grips[at];
  Eigen::VectorXd on_seats(static_cast<Eigen::Index>(grips.size()));
  for (std::size_t i = 0; i < grips.size(); ++i) {
    on_seats(static_cast<Eigen::Index>(i)) = grips[i].sign * forces(grips[i].contact);
  }
  return model.grillages->bodies[at].seat_response() * on_seats;
}

}  // namespace

Eigen::MatrixXd influence_surface(const Model& model,
                                  const ContactState& state,
                                  const Scales& scales,
                                  const std::vector<PointLoad>& points) {
  // What a stand takes of 1 N at a point is how far the point rises when the stand rises by 1.
  const Eigen::MatrixXd phi = flexibility(model, scales);
  const Eigen::MatrixXd drive = model.stand_of_contact.transpose();
  const HeldResponse response = respond(model, phi, state.open, drive);
  const Eigen::MatrixXd motions = rigid_motions(model, phi, state.open, drive, response);
  const Eigen::Index stands = drive.cols();
  const int bodies = static_cast<int>(model.bodies.size());
  std::vector<Eigen::MatrixXd> shapes;  // freedoms per body and stand
  for (int b = 0; b < bodies; ++b) {
    Eigen::MatrixXd shape(
        model.grillages->bodies[static_cast<std::size_t>(b)].seat_response().rows(), stands);
    for (Eigen::Index s = 0; s < stands; ++s) {
      shape.col(s) =
          deflected(model, b, scaled_forces(model, b, response.contact_N.col(s), scales));
    }
    shapes.push_back(std::move(shape));
  }
  Eigen::MatrixXd shares(static_cast<Eigen::Index>(points.size()), stands);
  for (std::size_t i = 0; i < points.size(); ++i) {
    const PointLoad& point = points[i];
    const BuiltLoad checked = point_loads(model, {{point.x_m, point.y_m, 1.0}});
    if (!checked.load) throw std::invalid_argument("influence_surface: " + checked.what);
    const int module = model.grillages->module_at(point.x_m);
    const int body = model.grillages->body_of_module[static_cast<std::size_t>(module)];
    const auto at = static_cast<std::size_t>(body);
    const Eigen::RowVector3d rigid(1.0, point.x_m, point.y_m);
    shares.row(static_cast<Eigen::Index>(i)) =
        model.grillages->bodies[at].row_at(module, point.x_m, point.y_m).transpose() * shapes[at] +
        rigid * motions.middleRows<3>(Eigen::Index{3} * body);
  }
  return shares;
}

std::vector<PointLoad> axle_group(double x_m,
                                  double y_m,
                                  const std::vector<double>& offsets_m,
                                  const std::vector<double>& axle_N,
                                  double track_m) {
  if (offsets_m.size() != axle_N.size()) {
    throw std::invalid_argument("axle_group: one load for each axle is needed");
  }
  std::vector<PointLoad> wheels;
  for (std::size_t i = 0; i < offsets_m.size(); ++i) {
    wheels.push_back({x_m + offsets_m[i], y_m + 0.5 * track_m, 0.5 * axle_N[i]});
    wheels.push_back({x_m + offsets_m[i], y_m - 0.5 * track_m, 0.5 * axle_N[i]});
  }
  return wheels;
}

}  // namespace weighwright::statics
