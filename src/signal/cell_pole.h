#pragma once
/// One wired cell at a force, condensed to its four terminals at the box. Model: circuit.h.

#include "signal/circuit.h"
#include "signal/four_pole.h"

namespace weighwright::signal {

/// One cell at a force, condensed to its terminals at the box.
struct CellPole {
  FourVector series_ohm;    // all that lies before the bridge
  FourMatrix slope;         // dY/dF of the bridge, 1/(ohm N)
  FourMatrix inward;        // bridge voltages for those at the box
  FourMatrix admittance;    // at the box
  double before_ohm = 0.0;  // of that, in each supply lead up to the cell's own terminals
};

/// @throws std::invalid_argument when the force would open or short an arm
[[nodiscard]] CellPole condense(const WiredCell& cell, double force_N);

}  // namespace weighwright::signal
