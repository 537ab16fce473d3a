#include "statics/standing.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "statics/contact.h"
#include "statics/equilibrium.h"
#include "statics/grillages.h"
#include "units/quantity.h"

namespace weighwright::statics {
namespace {

constexpr double kOnModule_m = 1e-3;

bool positive(double value) {
  return std::isfinite(value) && value > 0.0;
}

class Faults {
 public:
  void add(std::string what, std::string expected) {
    list_.push_back({"", 0, 0, std::move(what), std::move(expected)});
  }
  [[nodiscard]] units::Diagnostics take() { return std::move(list_); }

 private:
  units::Diagnostics list_;
};

void check_module(const deck::Module& module, Faults& faults) {
  const std::string name = "module " + module.mark;
  if (!positive(module.length_m)) faults.add(name + " has no length", "a length above 0");
  if (!(module.mass_kg >= 0.0) || !std::isfinite(module.mass_kg)) {
    faults.add(name + " has no mass", "a mass of 0 or more");
  }
  if (!std::isfinite(module.centre_m) || !(module.width_m >= 0.0)) {
    faults.add(name + " has no centre of gravity or no width", "finite numbers");
  }
  if (module.crossbeams < 2) faults.add(name + " has fewer than 2 crossbeams", "one at each end");
  if (!positive(module.bending_Nm2) || !positive(module.twisting_Nm2)) {
    faults.add(name + " has no bending or twisting rigidity", "rigidities above 0");
  }
  if (!(module.crossbeam_bending_Nm2 > 0.0) || !(module.crossbeam_twisting_Nm2 >= 0.0) ||
      !std::isfinite(module.crossbeam_twisting_Nm2)) {
    faults.add(name + " has crossbeams without rigidity",
               "bending above 0 (or rigid), twisting of 0 or more");
  }
  std::vector<double> girders = module.girders_m;
  std::sort(girders.begin(), girders.end());
  const bool apart = std::adjacent_find(girders.begin(), girders.end(), [](double a, double b) {
                       return !(b - a > kOnModule_m);
                     }) == girders.end();
  if (girders.size() < 2 || !apart) {
    faults.add(name + " has fewer than two girder lines", "two or more, apart from one another");
  }
}

void check_section(const deck::Deck& deck, std::size_t i, Faults& faults) {
  const deck::Section& section = deck.sections[i];
  const std::string name = "section " + std::to_string(i + 1);
  if (!positive(section.across_m)) {
    faults.add(name + " has no distance across", "a distance above 0");
  }
  if (i > 0 && !(section.at_m > deck.sections[i - 1].at_m)) {
    faults.add(name + " does not stand after the section before it", "sections from end 1");
  }
  if (section.module.value < 0 || section.module.value >= static_cast<int>(deck.modules.size())) {
    faults.add(name + " carries no module of this deck", "a module of this deck");
    return;
  }
  const deck::Module& module = deck.modules[static_cast<std::size_t>(section.module.value)];
  const double start = deck.start_m(section.module);
  if (!(section.at_m >= start - kOnModule_m) ||
      !(section.at_m <= start + module.length_m + kOnModule_m)) {
    faults.add(name + " at " + units::print_fixed(section.at_m, 3) + " m is not under module " +
                   module.mark,
               "between " + units::print_fixed(start, 3) + " m and " +
                   units::print_fixed(start + module.length_m, 3) + " m");
  }
}

void check_joint(const deck::Deck& deck, std::size_t i, Faults& faults) {
  const deck::Joint& joint = deck.joints[i];
  const std::string name = "joint " + deck.modules[i].mark + "-" + deck.modules[i + 1].mark;
  if (joint.kind == deck::JointKind::hinge && !positive(joint.across_m)) {
    faults.add(name + " has no distance between its bearings", "a distance above 0");
  }
  if (joint.resting && joint.resting->value != static_cast<int>(i) &&
      joint.resting->value != static_cast<int>(i) + 1) {
    faults.add(name + " names a module that does not meet there", "one of the two modules");
  }
  if (joint.kind != deck::JointKind::shared_stand) return;
  const double at = deck.joint_m(static_cast<int>(i));
  const bool found = std::any_of(
      deck.sections.begin(), deck.sections.end(),
      [&](const deck::Section& section) { return std::abs(section.at_m - at) <= kOnModule_m; });
  if (!found) {
    faults.add(name + " is on shared stands, but no section stands there",
               "a section at " + units::print_fixed(at, 3) + " m");
  }
}

std::string kN(double force_N) {
  return units::print_fixed(force_N / 1000.0, 1) + " kN";
}

std::string carrier(const Model& model, const Contact& contact) {
  return contact.below >= 0 ? " on " + print_body(model, contact.below) : std::string();
}

}  // namespace

units::Diagnostics check_shape(const deck::Deck& deck) {
  Faults faults;
  if (deck.modules.empty() || deck.sections.empty()) {
    faults.add("the deck has no module or no section", "at least one of each");
    return faults.take();
  }
  if (deck.joints.size() + 1 != deck.modules.size()) {
    faults.add("the deck has " + std::to_string(deck.joints.size()) + " joints",
               "one between each two modules");
    return faults.take();
  }
  if (deck.stands.size() != 2 * deck.sections.size()) {
    faults.add("the deck has " + std::to_string(deck.stands.size()) + " stands",
               "two for each section");
    return faults.take();
  }
  for (const deck::Module& module : deck.modules) check_module(module, faults);
  for (std::size_t i = 0; i < deck.sections.size(); ++i) check_section(deck, i, faults);
  for (std::size_t i = 0; i < deck.joints.size(); ++i) check_joint(deck, i, faults);
  for (std::size_t i = 0; i < deck.stands.size(); ++i) {
    const deck::Stand& stand = deck.stands[i];
    if (positive(stand.cell.capacity_kg) && stand.cell.deflection_m >= 0.0 &&
        stand.foundation_N_per_m > 0.0) {
      continue;
    }
    faults.add("stand " + units::print(units::StandIndex{static_cast<int>(i)}) +
                   " has no capacity, or a deflection or foundation below 0",
               "a capacity and a foundation above 0, a deflection of 0 or more");
  }
  return faults.take();
}

units::Diagnostics check_held(const Model& model,
                              const Eigen::MatrixXd& equilibrium,
                              const Eigen::MatrixXd& scaling) {
  const std::optional<FreeMotion> motion = find_free_motion(equilibrium, scaling);
  if (!motion) return {};
  const std::string name = print_body(model, motion->body);
  const bool touched =
      std::any_of(model.contacts.begin(), model.contacts.end(), [&](const Contact& contact) {
        return contact.above == motion->body || contact.below == motion->body;
      });
  Faults faults;
  if (!touched) {
    faults.add(name + " has nothing under it", "a section or a joint that carries it");
  } else if (std::abs(motion->pitch) >= std::abs(motion->roll)) {
    faults.add(name + " tips: nothing keeps its ends from going up and down",
               "one more section, or a joint that holds it");
  } else {
    faults.add(name + " rolls: nothing keeps its sides from going up and down",
               "a section or a joint with a left and a right side");
  }
  return faults.take();
}

std::string explain_pull(const Model& model, const Eigen::VectorXd& resultant) {
  // Least sum of squared pulls s with F + s >= 0; the redundants q are nearly free.
  const Eigen::VectorXd forces = model.particular * resultant;
  const Eigen::Index m = forces.size();
  const Eigen::Index r = model.redundants.cols();
  Eigen::MatrixXd c = Eigen::MatrixXd::Identity(r + m, r + m);
  c.topLeftCorner(r, r) *= 1e-8;
  Eigen::MatrixXd a(r + m, m);
  a << model.redundants.transpose(), Eigen::MatrixXd::Identity(m, m);
  const QpSolution solution = solve_contact_qp(c, Eigen::VectorXd::Zero(r + m), a, forces);
  const Eigen::VectorXd pull = solution.q.tail(m);
  Eigen::Index worst = 0;
  const double most = m == 0 ? 0.0 : pull.maxCoeff(&worst);
  if (m == 0 || most <= 1e-6 * forces.cwiseAbs().maxCoeff()) return {};
  const Contact& contact = model.contacts[static_cast<std::size_t>(worst)];
  const int other = model.grillages->partner[static_cast<std::size_t>(worst)];
  const bool both = std::abs(pull(other) - most) <= 0.01 * most;
  std::string text = print_body(model, contact.above) + " tips: its ";
  if (contact.is_bearing) {
    text += both ? "bearings" : std::string(units::print(contact.side)) + " bearing";
    text += carrier(model, contact);
  } else if (both) {
    const Contact& second = model.contacts[static_cast<std::size_t>(other)];
    const bool left_first = contact.side == units::Side::left;
    text += "stands " + units::print(left_first ? contact.stand : second.stand) + " and " +
            units::print(left_first ? second.stand : contact.stand);
  } else {
    text += "stand " + units::print(contact.stand);
  }
  return text + " would have to pull " + kN(most) + (both ? " each" : "");
}

}  // namespace weighwright::statics
