#pragma once
/// Decks of our own invention for the tests of statics, built by hand.

#include <string>
#include <vector>

#include "deck/deck.h"

namespace weighwright::statics::tests {

inline constexpr double kGravity = 9.80665;  // m/s2, standard gravity

/// Every stand of the given stiffness (N/m); infinite: rigid.
inline deck::Stand stand_of(double stiffness_N_per_m) {
  deck::Stand stand;
  stand.cell.capacity_kg = 25000.0;
  stand.cell.output_V_per_V = 2e-3;
  stand.cell.deflection_m = 0.0;
  stand.foundation_N_per_m = stiffness_N_per_m;
  return stand;
}

/// Two girders at +-1.2 m, EI 252 MN m2, GJ 20 MN m2, 5200 kg, 7 m x 3 m.
inline deck::Module ladder_module(const std::string& mark, int crossbeams) {
  deck::Module module;
  module.mark = mark;
  module.length_m = 7.0;
  module.width_m = 3.0;
  module.mass_kg = 5200.0;
  module.centre_m = 3.5;
  module.bending_Nm2 = 252e6;
  module.twisting_Nm2 = 20e6;
  module.crossbeams = crossbeams;
  module.crossbeam_bending_Nm2 = 42e6;
  module.crossbeam_twisting_Nm2 = 0.8e6;
  module.girders_m = {1.2, -1.2};
  return module;
}

inline void add_section(
    deck::Deck& deck, double at_m, int module, double across_m, double stiffness_N_per_m) {
  deck.sections.push_back({at_m, units::ModuleIndex{module}, across_m});
  deck.stands.push_back(stand_of(stiffness_N_per_m));
  deck.stands.push_back(stand_of(stiffness_N_per_m));
}

inline deck::Joint hinge(int resting, double across_m) {
  deck::Joint joint;
  joint.kind = deck::JointKind::hinge;
  joint.resting = units::ModuleIndex{resting};
  joint.across_m = across_m;
  return joint;
}

/// One ladder module on its four corners.
inline deck::Deck deck_r1(double stiffness_N_per_m = 200e6) {
  deck::Deck deck;
  deck.modules = {ladder_module("A", 2)};
  add_section(deck, 0.0, 0, 2.4, stiffness_N_per_m);
  add_section(deck, 7.0, 0, 2.4, stiffness_N_per_m);
  return deck;
}

/// Three ladder modules, sections on the joint lines, the inner two under the middle module.
inline deck::Deck deck_r2(double stiffness_N_per_m = 200e6) {
  deck::Deck deck;
  deck.modules = {ladder_module("A", 2), ladder_module("B", 2), ladder_module("C", 2)};
  deck.joints = {hinge(0, 2.4), hinge(2, 2.4)};
  add_section(deck, 0.0, 0, 2.4, stiffness_N_per_m);
  add_section(deck, 7.0, 1, 2.4, stiffness_N_per_m);
  add_section(deck, 14.0, 1, 2.4, stiffness_N_per_m);
  add_section(deck, 21.0, 2, 2.4, stiffness_N_per_m);
  return deck;
}

/// Three modules of seven crossbeams, stands set in by 0.3 m.
inline deck::Deck deck_r3(double twisting_Nm2 = 20e6, double bearings_m = 2.4) {
  deck::Deck deck;
  deck.modules = {ladder_module("A", 7), ladder_module("B", 7), ladder_module("C", 7)};
  for (deck::Module& module : deck.modules) module.twisting_Nm2 = twisting_Nm2;
  deck.joints = {hinge(0, bearings_m), hinge(2, bearings_m)};
  add_section(deck, 0.30, 0, 2.4, 200e6);
  add_section(deck, 7.30, 1, 2.4, 200e6);
  add_section(deck, 13.70, 1, 2.4, 200e6);
  add_section(deck, 20.70, 2, 2.4, 200e6);
  return deck;
}

/// The same with closed cells: twisting is GJ_eff, crossbeams neither bend nor twist.
inline deck::Deck deck_of_closed_cells() {
  deck::Deck deck = deck_r3(94e6);
  for (deck::Module& module : deck.modules) {
    module.crossbeam_bending_Nm2 = deck::kRigid;
    module.crossbeam_twisting_Nm2 = 0.0;
  }
  return deck;
}

/// A narrow deck of one piece on rigid or yielding supports: left and right together are one beam.
inline deck::Deck beam(const std::vector<double>& supports_m,
                       double bending_Nm2,
                       double weight_N,
                       double stiffness_N_per_m = deck::kRigid) {
  deck::Deck deck;
  deck::Module module;
  module.mark = "A";
  module.length_m = supports_m.back();
  module.width_m = 0.5;
  module.mass_kg = weight_N / kGravity;
  module.centre_m = 0.5 * module.length_m;
  module.bending_Nm2 = bending_Nm2;
  module.twisting_Nm2 = bending_Nm2;
  module.crossbeams = 2;
  module.girders_m = {0.25, -0.25};
  deck.modules = {module};
  for (const double x : supports_m) add_section(deck, x, 0, 0.5, stiffness_N_per_m);
  return deck;
}

}  // namespace weighwright::statics::tests
