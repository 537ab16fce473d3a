#pragma once
/// Decks for the benches: chains of hinged 7 m modules, our own invention.

#include <string>

#include "deck/deck.h"

namespace weighwright::bench {

/// @param modules  number of modules in a row; the middle one (or the two in the middle) carries
/// two
///                 sections, each other one its neighbour's end and one section
/// @param twisting_Nm2  GJ of a module
inline deck::Deck chain(int modules, double twisting_Nm2) {
  deck::Deck deck;
  deck.name = "bench chain";
  deck.rulebook = "R76";
  deck.accuracy_class = "III";
  deck.capacity_kg = 60000.0;
  deck.interval_kg = 20.0;
  deck.excitation_given = true;
  deck.sharing.tolerance_V = 1e-3;
  deck.sharing.tolerance_share.reset();
  constexpr double kLength_m = 7.0;
  constexpr double kSetIn_m = 0.3;
  for (int i = 0; i < modules; ++i) {
    deck::Module module;
    module.mark = std::string(1, static_cast<char>('A' + i));
    module.length_m = kLength_m;
    module.width_m = 3.0;
    module.mass_kg = 6500.0;
    module.mass_given = true;
    module.centre_m = kLength_m / 2.0;
    module.centre_given = true;
    module.centre_spread_m = 0.05;
    module.twisting_Nm2 = twisting_Nm2;
    module.girders_m = {1.2, -1.2};
    deck.modules.push_back(module);
    if (i == 0) continue;
    deck::Joint joint;
    joint.across_m = 2.4;
    deck.joints.push_back(joint);
  }
  const int middle = modules / 2;
  for (int k = 0; k <= modules; ++k) {
    deck::Section section;
    section.across_m = 2.4;
    const bool towards_end_2 = k == 0 || (k <= middle && k < modules);
    section.module = units::ModuleIndex{towards_end_2 ? k : k - 1};
    section.at_m = kLength_m * k + (towards_end_2 ? kSetIn_m : -kSetIn_m);
    deck.sections.push_back(section);
  }
  for (int i = 0; i < 2 * (modules + 1); ++i) {
    deck::Stand stand;
    stand.cell.capacity_kg = 25000.0;
    stand.cell.output_V_per_V = 2e-3;
    stand.cell.deflection_m = 0.4e-3;
    const double cell_N_per_m = 25000.0 * 9.80665 / 0.4e-3;
    stand.foundation_N_per_m = 1.0 / (1.0 / 200e6 - 1.0 / cell_N_per_m);
    deck.stands.push_back(stand);
  }
  return deck;
}

}  // namespace weighwright::bench
