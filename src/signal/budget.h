#pragma once
/// How many millivolts a weighbridge has to spend: signal at dead load and at Max, signal of an
/// interval, load on the supply, what cables cost.
///
/// Model   circuit.h with the deck's cables and trims at their start; changes per metre and per
///         kelvin by solving the changed circuit again.
/// Limits  as circuit.h. Digital boxes and digital cells have no such circuit: `digital` is set,
///         `why_none` says so and every figure is empty.
/// Source  circuit.h, conductor.h.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"

namespace weighwright::signal {

/// One weighing range, or the whole where the deck has one.
struct RangeBudget {
  double capacity_kg = 0.0;
  double interval_kg = 0.0;
  double interval_V = 0.0;  // signal of one interval at the indicator
};

struct CellBudget {
  double supply_V = 0.0;    // at its own terminals, nothing but dead load on the deck
  double dead_V = 0.0;      // this cell alone at that supply, its zero counted
  double full_V = 0.0;      // the same at Max
  double dead_share = 0.0;  // of its capacity
  double full_share = 0.0;
  double weight = 0.0;  // its part in the whole: change of the reading by 1 N here over the mean
};

struct SignalBudget {
  bool digital = false;
  std::string why_none;  // empty: there are figures
  bool sensed = false;   // 6-wire

  double supply_V = 0.0;      // at the indicator
  double dead_V = 0.0;        // signal at the indicator, nothing but dead load
  double full_V = 0.0;        // with Max on the deck
  double dead_V_per_V = 0.0;  // what the indicator works with: signal over the supply it knows
  double full_V_per_V = 0.0;
  std::vector<RangeBudget> ranges;         // never empty unless digital
  std::optional<double> least_interval_V;  // that the indicator takes; empty: not stated

  double supply_A = 0.0;   // drawn from the indicator, nothing but dead load on the deck
  double load_ohm = 0.0;   // the same as a resistance
  double box_V = 0.0;      // supply at the first box
  double home_loss = 0.0;  // of the supply, in the home cable: 1 - box / supply
  double cell_loss = 0.0;  // of the box's supply, before the cell's terminals: the greatest

  // Change of the sensitivity (reading per load), relative; positive: reads more. Empty: the deck
  // says no area for that cable, or there is none.
  std::optional<double> per_home_metre;    // home cable one metre longer
  std::optional<double> per_cell_metre;    // every cell's cable one metre longer
  std::optional<double> per_corner_metre;  // one cell's cable one metre longer: that cell against
                                           // the mean of the others (the greatest of all cells)
  std::optional<double> per_K;             // all copper one kelvin warmer

  std::vector<CellBudget> cells;  // in stand order
  std::vector<deck::Assumed> assumed;
};

/// @param dead_N  force of the empty deck on every stand, compressive positive
/// @param live_N  what Max adds on every stand; empty: Max shared equally
/// @throws std::invalid_argument when sizes do not fit the deck's stands or a value is not finite
[[nodiscard]] SignalBudget signal_budget(const deck::Deck& deck,
                                         const std::vector<double>& dead_N,
                                         const std::vector<double>& live_N = {});

/// Whether the deck's cells reach the indicator as numbers, not as millivolts.
[[nodiscard]] bool is_digital(const deck::Deck& deck);

}  // namespace weighwright::signal
