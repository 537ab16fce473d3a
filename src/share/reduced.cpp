#include "share/reduced.h"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>

namespace weighwright::share {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// The contact opposite to each one: same place along, other side; itself where there is none.
std::vector<int> mirror_of(const statics::Model& model) {
  std::vector<int> mirror;
  for (int i = 0; i < model.contact_count(); ++i) {
    const statics::Contact& a = model.contacts[at(i)];
    int found = i;
    for (int j = 0; j < model.contact_count(); ++j) {
      const statics::Contact& b = model.contacts[at(j)];
      if (a.is_bearing == b.is_bearing && a.side != b.side && a.above == b.above &&
          a.below == b.below && a.joint == b.joint &&
          (a.is_bearing || a.stand.section() == b.stand.section())) {
        found = j;
      }
    }
    mirror.push_back(found);
  }
  return mirror;
}

/// The part of a contact vector that is opposite (or alike) left and right.
Eigen::VectorXd mirrored_part(const Eigen::VectorXd& v,
                              const std::vector<int>& mirror,
                              bool antisymmetric) {
  Eigen::VectorXd part(v.size());
  for (int i = 0; i < v.size(); ++i) {
    const double other = v(mirror[at(i)]);
    part(i) = antisymmetric ? (v(i) - other) / 2.0 : (v(i) + other) / 2.0;
  }
  return part;
}

double twist_log_spread(const deck::Deck& deck, const statics::Body& body) {
  double spread = 1.0;
  for (int i = body.first_module; i <= body.last_module; ++i) {
    spread = std::max(spread, deck.modules[at(i)].twisting_spread);
  }
  return std::log(spread);
}

/// Loads: force and moments of every body for one unit of each of the three numbers of a module.
Eigen::MatrixXd resultants_per_load(const deck::Deck& deck, const statics::Model& model) {
  const int modules = static_cast<int>(deck.modules.size());
  Eigen::MatrixXd resultants = Eigen::MatrixXd::Zero(model.equilibrium.rows(), 3 * modules);
  for (int i = 0; i < modules; ++i) {
    int body = 0;
    for (int b = 0; b < static_cast<int>(model.bodies.size()); ++b) {
      if (model.bodies[at(b)].first_module <= i && i <= model.bodies[at(b)].last_module) body = b;
    }
    resultants.col(3 * i) = model.unit_weight[at(i)].resultant;
    resultants(3 * body + 1, 3 * i + 1) = 1.0;
    resultants(3 * body + 2, 3 * i + 2) = 1.0;
  }
  return resultants;
}

void set_loads(const deck::Deck& deck, const statics::Model& model, Reduced& reduced) {
  const int modules = static_cast<int>(deck.modules.size());
  const Eigen::MatrixXd resultants = resultants_per_load(deck, model);
  Eigen::MatrixXd forces = model.equilibrium.completeOrthogonalDecomposition().solve(resultants);
  forces -=
      reduced.contact_rows * (reduced.stand_rows.transpose() * (model.stand_of_contact * forces));
  reduced.contact_per_load = forces;
  reduced.load_mean.resize(3 * modules);
  reduced.load_sd.resize(3 * modules);
  for (int i = 0; i < modules; ++i) {
    const deck::Module& module = deck.modules[at(i)];
    const double weight_N = module.mass_kg * deck.site.gravity_m_per_s2;
    reduced.load_mean(3 * i) = weight_N;
    reduced.load_mean(3 * i + 1) = weight_N * (module.centre_m - module.length_m / 2.0);
    reduced.load_mean(3 * i + 2) = 0.0;
    reduced.load_sd(3 * i) = weight_N * module.mass_spread;
    reduced.load_sd(3 * i + 1) = weight_N * module.centre_spread_m;
    reduced.load_sd(3 * i + 2) = weight_N * module.side_spread_m;
  }
  reduced.contact_dead_N = forces * reduced.load_mean;
}

void set_flexibility(const deck::Deck& deck, const statics::Model& model, Reduced& reduced) {
  const Eigen::MatrixXd& n = reduced.contact_rows;
  const std::vector<int> mirror = mirror_of(model);
  reduced.c_fixed = n.transpose() * model.stand_flexibility * n;
  reduced.dead_fixed_m = -(n.transpose() * (model.stand_flexibility * reduced.contact_dead_N));
  const double floor_m_per_N = 1e-9 * reduced.c_fixed.norm();
  for (int b = 0; b < static_cast<int>(model.bodies.size()); ++b) {
    int position[2] = {-1, -1};
    for (const bool is_twist : {true, false}) {
      const Eigen::MatrixXd& phi =
          is_twist ? model.twist_flexibility[at(b)] : model.bend_flexibility[at(b)];
      Reduced::Parameter parameter;
      parameter.body = b;
      parameter.is_twist = is_twist;
      // The bending stiffness of a deck varies by about two between drawings, as a standard
      // deviation some 1.3 (shell models of four steel modules; docs/theory/share.md).
      parameter.log_spread = is_twist ? twist_log_spread(deck, model.bodies[at(b)]) : std::log(1.3);
      parameter.c = n.transpose() * phi * n;
      parameter.dead_m =
          -(n.transpose() * (phi * reduced.contact_dead_N +
                             mirrored_part(model.dead.free_of_body_m.col(b), mirror, is_twist)));
      if (parameter.c.norm() > floor_m_per_N) {
        position[is_twist ? 0 : 1] = static_cast<int>(reduced.parameters.size());
        reduced.parameters.push_back(parameter);
      } else {
        reduced.dead_fixed_m += parameter.dead_m;
      }
    }
    const Eigen::MatrixXd cross = n.transpose() * model.cross_flexibility[at(b)] * n;
    if (cross.norm() > floor_m_per_N) {
      reduced.crosses.push_back({position[0], position[1], cross});
    }
  }
}

void set_mismatch(const deck::Deck& deck, const Eigen::VectorXd& survey_m, Reduced& reduced) {
  const deck::Sharing& sharing = deck.sharing;
  Eigen::VectorXd mean = Eigen::VectorXd::Zero(reduced.stands);
  Eigen::VectorXd variance =
      Eigen::VectorXd::Constant(reduced.stands, sharing.heights_m * sharing.heights_m);
  for (int i = 0; i < survey_m.size(); ++i) {
    if (std::isnan(survey_m(i))) continue;
    mean(i) = survey_m(i);
    variance(i) = sharing.survey_m * sharing.survey_m;
  }
  const Eigen::MatrixXd& n = reduced.stand_rows;
  reduced.mismatch_mean_m = n.transpose() * mean;
  // As-built twist of the modules: every contact of a module is out of plane by its own amount.
  const double twist2 = sharing.module_twist_m * sharing.module_twist_m;
  reduced.mismatch_cov_m2 = n.transpose() * variance.asDiagonal() * n +
                            twist2 * (reduced.contact_rows.transpose() * reduced.contact_rows);
}

}  // namespace

Reduced reduce(const deck::Deck& deck,
               const statics::Model& model,
               const Eigen::VectorXd& survey_m) {
  Reduced reduced;
  reduced.contacts = model.contact_count();
  reduced.stands = deck.stand_count();
  reduced.redundants = model.redundant_count();
  reduced.contact_rows = model.redundants;
  reduced.stand_of_contact = model.stand_of_contact;
  reduced.stand_rows = model.stand_of_contact * model.redundants;
  const Eigen::MatrixXd q = reduced.stand_rows.householderQr().householderQ();
  reduced.determinate = q.rightCols(reduced.stands - reduced.redundants);
  set_loads(deck, model, reduced);
  set_flexibility(deck, model, reduced);
  set_mismatch(deck, survey_m, reduced);
  return reduced;
}

Eigen::MatrixXd flexibility(const Reduced& reduced, const std::vector<double>& factor) {
  Eigen::MatrixXd c = reduced.c_fixed;
  for (std::size_t k = 0; k < reduced.parameters.size(); ++k) {
    c += reduced.parameters[k].c / factor[k];
  }
  for (const Reduced::Cross& cross : reduced.crosses) {
    const double twist = cross.twist < 0 ? 1.0 : factor[at(cross.twist)];
    const double bend = cross.bend < 0 ? 1.0 : factor[at(cross.bend)];
    c += cross.c / std::sqrt(twist * bend);
  }
  return c;
}

Eigen::VectorXd dead_mismatch(const Reduced& reduced, const std::vector<double>& factor) {
  Eigen::VectorXd d = reduced.dead_fixed_m;
  for (std::size_t k = 0; k < reduced.parameters.size(); ++k) {
    d += reduced.parameters[k].dead_m / factor[k];
  }
  return d;
}

}  // namespace weighwright::share
