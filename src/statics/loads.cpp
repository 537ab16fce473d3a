#include <Eigen/Core>
#include <cmath>
#include <cstddef>
#include <stdexcept>

#include "statics/contact.h"
#include "statics/grillages.h"
#include "statics/model.h"
#include "units/quantity.h"

namespace weighwright::statics {
namespace {

constexpr double kEdge_m = 1e-9;  // rounding of sums of lengths

void require(bool holds, const char* what) {
  if (!holds) throw std::invalid_argument(what);
}

std::string off_deck(const Model::Grillages& grillages, const PointLoad& load) {
  return "load at x = " + units::print_fixed(load.x_m, 3) +
         " m, y = " + units::print_fixed(load.y_m, 3) + " m is off the deck, which ends at " +
         units::print_fixed(grillages.starts_m.back(), 3) + " m and is " +
         units::print_fixed(grillages.widths_m.front(), 3) + " m wide at end 1";
}

}  // namespace

int Model::Grillages::module_at(double x_m) const {
  if (!(x_m >= -kEdge_m)) return -1;
  for (std::size_t i = 0; i + 1 < starts_m.size(); ++i) {
    if (x_m <= starts_m[i + 1] + kEdge_m) return static_cast<int>(i);
  }
  return -1;
}

LoadCase no_load(const Model& model) {
  const auto bodies = static_cast<Eigen::Index>(model.bodies.size());
  const auto m = static_cast<Eigen::Index>(model.contacts.size());
  return {Eigen::VectorXd::Zero(3 * bodies), Eigen::VectorXd::Zero(m),
          Eigen::MatrixXd::Zero(m, bodies)};
}

LoadCase condense(const Model& model,
                  int body,
                  const Eigen::VectorXd& nodal_N,
                  const Eigen::Vector3d& resultant) {
  LoadCase load = no_load(model);
  load.resultant.segment<3>(Eigen::Index{3} * body) = resultant;
  const auto at = static_cast<std::size_t>(body);
  const Eigen::VectorXd down = model.grillages->bodies[at].seat_response().transpose() * nodal_N;
  const std::vector<Grip>& grips = model.grillages->grips[at];
  for (std::size_t i = 0; i < grips.size(); ++i) {
    load.free_of_body_m(grips[i].contact, body) -=
        grips[i].sign * down(static_cast<Eigen::Index>(i));
  }
  load.free_m = load.free_of_body_m.rowwise().sum();
  return load;
}

LoadCase add(const LoadCase& a, const LoadCase& b) {
  require(a.resultant.size() == b.resultant.size() && a.free_m.size() == b.free_m.size() &&
              a.free_of_body_m.rows() == b.free_of_body_m.rows() &&
              a.free_of_body_m.cols() == b.free_of_body_m.cols(),
          "add: load cases of two different decks");
  return {a.resultant + b.resultant, a.free_m + b.free_m, a.free_of_body_m + b.free_of_body_m};
}

LoadCase scale(const LoadCase& load, double factor) {
  require(std::isfinite(factor), "scale: the factor must be finite");
  return {factor * load.resultant, factor * load.free_m, factor * load.free_of_body_m};
}

BuiltLoad point_loads(const Model& model, const std::vector<PointLoad>& loads) {
  const Model::Grillages& grillages = *model.grillages;
  LoadCase sum = no_load(model);
  for (const PointLoad& point : loads) {
    if (!std::isfinite(point.force_N)) {
      return {std::nullopt, "a load's force is not a finite number"};
    }
    const int module = grillages.module_at(point.x_m);
    if (module < 0 || !(std::abs(point.y_m) <=
                        0.5 * grillages.widths_m[static_cast<std::size_t>(module)] + kEdge_m)) {
      return {std::nullopt, off_deck(grillages, point)};
    }
    const int body = grillages.body_of_module[static_cast<std::size_t>(module)];
    const Eigen::VectorXd row =
        grillages.bodies[static_cast<std::size_t>(body)].row_at(module, point.x_m, point.y_m);
    const Eigen::Vector3d unit(1.0, point.x_m, point.y_m);
    sum = add(sum, condense(model, body, point.force_N * row, point.force_N * unit));
  }
  return {sum, {}};
}

Eigen::VectorXd mirrored(const Model& model, const Eigen::VectorXd& per_contact) {
  Eigen::VectorXd image(per_contact.size());
  for (Eigen::Index c = 0; c < per_contact.size(); ++c) {
    image(c) = per_contact(model.grillages->partner[static_cast<std::size_t>(c)]);
  }
  return image;
}

Eigen::VectorXd free_displacement(const Model& model, const LoadCase& load, const Scales& scales) {
  const auto bodies = static_cast<Eigen::Index>(model.bodies.size());
  require(scales.twist.size() == bodies && scales.bend.size() == bodies,
          "free_displacement: scales must have one entry per body");
  require(
      load.free_of_body_m.rows() == model.contact_count() && load.free_of_body_m.cols() == bodies,
      "free_displacement: the load case is of another deck");
  Eigen::VectorXd free = Eigen::VectorXd::Zero(model.contact_count());
  for (Eigen::Index b = 0; b < bodies; ++b) {
    const Eigen::VectorXd own = load.free_of_body_m.col(b);
    const Eigen::VectorXd image = mirrored(model, own);
    free += 0.5 / scales.bend(b) * (own + image) + 0.5 / scales.twist(b) * (own - image);
  }
  return free;
}

}  // namespace weighwright::statics
