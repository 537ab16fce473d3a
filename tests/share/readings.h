#pragma once
/// What the tests of share have in common: a deck with a meter, and readings made by statics alone.

#include <Eigen/Core>
#include <cmath>
#include <string>
#include <vector>

#include "record/measurement.h"
#include "statics/fixture.h"

namespace weighwright::share::tests {

using statics::tests::built;

inline constexpr double kFull_mV = 20.0;      // 2 mV/V at 10 V
inline constexpr double kFull_N = 245166.25;  // 25 000 kg x 9.80665 m/s2
inline constexpr double kMvPerN = kFull_mV / kFull_N;

inline std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// With supply measured, so that nothing is assumed.
inline deck::Deck metered(deck::Deck deck) {
  deck.excitation_V = 10.0;
  deck.excitation_given = true;
  deck.name = "test deck";
  return deck;
}

/// Hinged modules in a row: the first on two sections, each other one on its neighbour and one
/// section.
inline deck::Deck chain(int modules, double twisting_Nm2) {
  deck::Deck deck;
  for (int i = 0; i < modules; ++i) {
    const std::string mark(1, static_cast<char>('A' + i));
    deck.modules.push_back(statics::tests::ladder_module(mark, 7));
    deck.modules.back().twisting_Nm2 = twisting_Nm2;
    if (i > 0) deck.joints.push_back(statics::tests::hinge(i, 2.4));
  }
  statics::tests::add_section(deck, 0.3, 0, 2.4, 200e6);
  for (int i = 0; i < modules; ++i) {
    statics::tests::add_section(deck, 7.0 * (i + 1) - 0.3, i, 2.4, 200e6);
  }
  return metered(deck);
}

/// mV of every stand; the no-load column is 0.
inline record::ReadingSet readings_mV(const std::vector<double>& mV, bool with_no_load = true) {
  record::ReadingSet set;
  set.source = "readings.csv";
  for (int i = 0; i < static_cast<int>(mV.size()); ++i) {
    record::StandReading reading;
    reading.stand = units::StandIndex{i};
    reading.value = mV[at(i)];
    if (with_no_load) reading.no_load = 0.0;
    reading.resolution = 0.01;
    reading.line = i + 2;
    set.stands.push_back(reading);
  }
  return set;
}

/// What 25 t cells read under these forces, unrounded.
inline record::ReadingSet readings_of(const Eigen::VectorXd& force_N, bool with_no_load = true) {
  std::vector<double> mV;
  for (const double force : force_N) mV.push_back(force * kMvPerN);
  return readings_mV(mV, with_no_load);
}

/// Forces of the deck at stand heights given in millimetres, contacts as they come.
inline Eigen::VectorXd forces_at_mm(const statics::Model& model, const std::vector<double>& mm) {
  Eigen::VectorXd heights(static_cast<Eigen::Index>(mm.size()));
  for (int i = 0; i < heights.size(); ++i) heights(i) = mm[at(i)] * 1e-3;
  return statics::tests::at_heights(model, heights).stand_N;
}

inline record::TurnSet turns_of(const std::vector<std::pair<int, double>>& list) {
  record::TurnSet set;
  set.source = "turns.csv";
  for (const auto& [stand, turns] : list) {
    record::StandTurn turn;
    turn.stand = units::StandIndex{stand};
    turn.turns = turns;
    set.stands.push_back(turn);
  }
  return set;
}

}  // namespace weighwright::share::tests
