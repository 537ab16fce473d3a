#include "statics/contact.h"

#include <cmath>
#include <cstddef>
#include <stdexcept>

#include "statics/held.h"
#include "statics/standing.h"

namespace weighwright::statics {
namespace {

// Below this part of the largest force a contact carries nothing: rounding of the solve.
constexpr double kNothing = 1e-11;

void check(const Model& model, const LoadCase& load, const Eigen::VectorXd& heights_m) {
  if (heights_m.size() != model.stand_of_contact.rows() || !heights_m.allFinite()) {
    throw std::invalid_argument("solve_contact: one finite height per stand is needed");
  }
  if (load.resultant.size() != model.equilibrium.rows() || !load.resultant.allFinite()) {
    throw std::invalid_argument("solve_contact: the load case is of another deck or not finite");
  }
}

}  // namespace

ContactState solve_driven(const Model& model,
                          const Eigen::MatrixXd& phi,
                          const Eigen::VectorXd& resultant,
                          const Eigen::VectorXd& drive) {
  const Eigen::MatrixXd& n = model.redundants;
  const Eigen::VectorXd given = model.particular * resultant;
  const Eigen::MatrixXd c = n.transpose() * phi * n;
  const QpSolution solution = solve_contact_qp(
      0.5 * (c + c.transpose()), n.transpose() * (drive - phi * given), n.transpose(), given);
  ContactState state;
  state.status = solution.status;
  state.gap_m = solution.multiplier;
  state.contact_N = given + n * solution.q;
  const double largest = state.contact_N.size() == 0 ? 0.0 : state.contact_N.cwiseAbs().maxCoeff();
  for (const int p : solution.active) state.contact_N(p) = 0.0;
  for (int p = 0; p < model.contact_count(); ++p) {
    if (state.contact_N(p) > kNothing * largest) continue;
    if (solution.status == ContactStatus::solved) state.contact_N(p) = 0.0;
    state.open.push_back(p);
  }
  state.stand_N = model.stand_of_contact * state.contact_N;
  if (solution.status == ContactStatus::infeasible) {
    state.what = explain_pull(model, resultant);
  } else if (solution.status == ContactStatus::step_limit) {
    state.what = "the contact solve did not end within its bound of steps";
  }
  return state;
}

ContactState solve_contact(const Model& model,
                           const LoadCase& load,
                           const Eigen::VectorXd& heights_m,
                           const Scales& scales) {
  check(model, load, heights_m);
  const Eigen::VectorXd drive =
      model.stand_of_contact.transpose() * heights_m - free_displacement(model, load, scales);
  return solve_driven(model, flexibility(model, scales), load.resultant, drive);
}

Eigen::MatrixXd influence(const Model& model, const ContactState& state, const Scales& scales) {
  const Eigen::MatrixXd& t = model.stand_of_contact;
  const HeldResponse response =
      respond(model, flexibility(model, scales), state.open, t.transpose());
  Eigen::MatrixXd k = t * response.contact_N;
  k = (0.5 * (k + k.transpose())).eval();
  Eigen::VectorXd pressing = t * Eigen::VectorXd::Ones(t.cols());
  for (const int c : state.open) pressing -= t.col(c);
  for (Eigen::Index s = 0; s < k.rows(); ++s) {
    if (pressing(s) > 0.5) continue;  // a count of contacts
    k.row(s).setZero();
    k.col(s).setZero();
  }
  return k;
}

}  // namespace weighwright::statics
