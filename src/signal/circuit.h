#pragma once
/// Cells, cables, junction boxes and indicator as one linear network, solved by nodal analysis.
///
/// Model   A cell is a bridge of four arms of its output resistance R_out, arms R_out (1 +- x),
///         x = (S F / F_max + zero) R_in / R_out; what its input resistance exceeds R_out by lies
///         half in each supply lead (a cell with R_in < R_out has a resistor across its supply
///         instead, and x without R_in / R_out). Cell leads, trims, link and home cables are
///         resistors; the supply is an ideal source at the indicator; 6-wire: the indicator
///         measures the supply at the first box and divides by it, so that the home cable's drop
///         leaves the reading.
/// Unknown Node potentials; every cell, then every box is condensed to four terminals
///         (four_pole.h), so that the work grows with the number of cells. Copper: conductor.h.
/// Limits  Steady DC; self-heating, lead capacity and thermal voltages are left out. 1 to 24 cells.
/// Source  Nodal analysis and Millman's theorem (any text on linear circuits; from memory,
///         unverified); OIML R 60 for the terms of a cell. docs/theory/signal.md.

#include <Eigen/Core>
#include <limits>
#include <vector>

#include "deck/deck.h"

namespace weighwright::signal {

/// One cell as wired.
struct WiredCell {
  double rated_N = 0.0;  // capacity * 9.80665
  double output_V_per_V = 0.0;
  double zero_V_per_V = 0.0;
  double input_ohm = 0.0;
  double output_ohm = 0.0;
  double lead_ohm = 0.0;         // one core of its lead
  double signal_trim_ohm = 0.0;  // both signal leads together, half in each
  double supply_trim_ohm = 0.0;  // both supply leads together, half in each
  int box = 0;
};

struct WiredBox {
  double link_ohm = 0.0;  // one core of the cable towards the indicator's side; 0 for the first
};

struct Wiring {
  std::vector<WiredCell> cells;  // in stand order
  std::vector<WiredBox> boxes;
  double home_ohm = 0.0;  // one core
  bool sensed = false;    // 6-wire: supply measured at the first box
  double supply_V = 10.0;
  double indicator_ohm = std::numeric_limits<double>::infinity();  // signal input
};

/// The wiring that a deck file describes; trims at their start (no resistance where nothing is
/// said, nor in trims that act on a section). What was assumed (equal cells of 350 ohm, 20 degC, no
/// cable) is added to `assumed`, keys as in the deck file. Digital boxes: the cells' bridges as if
/// they were paralleled without trims; nothing in the deck works that way, use cell.h.
/// @param cable_degC  of all copper
/// @param assumed     may be null
[[nodiscard]] Wiring wire(const deck::Deck& deck,
                          double cable_degC,
                          std::vector<deck::Assumed>* assumed);

struct Solved {
  double output_V = 0.0;         // at the indicator's signal input
  double supply_A = 0.0;         // drawn from the source
  double box_V = 0.0;            // supply at the first box
  double reading_V_per_V = 0.0;  // what the indicator works with: output over the supply that it
                                 // knows (sensed: at the box; else its own)
  std::vector<double> cell_V;    // supply at each cell
};

/// @param force_N  of every cell, compressive positive
/// @throws std::invalid_argument when sizes do not fit or a resistance is negative or not finite
[[nodiscard]] Solved solve(const Wiring& wiring, const Eigen::VectorXd& force_N);

/// d(reading)/d(force) of every cell, 1/N: how much the ratio reading rises by a newton on it.
/// By the adjoint network: two solves whatever the number of cells.
[[nodiscard]] Eigen::VectorXd gains_per_N(const Wiring& wiring, const Eigen::VectorXd& force_N);

}  // namespace weighwright::signal
