#include "signal/cell_pole.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace weighwright::signal {

CellPole condense(const WiredCell& cell, double force_N) {
  // With pads the bridge sees R_out / R_in of the supply; its strain makes up for that.
  const double pads_ohm = std::max(cell.input_ohm - cell.output_ohm, 0.0);
  const double boost = (cell.output_ohm + pads_ohm) / cell.output_ohm;
  const double dx_dF = cell.output_V_per_V / cell.rated_N * boost;
  const double x = dx_dF * force_N + cell.zero_V_per_V * boost;
  if (!(std::abs(x) < 1.0)) throw std::invalid_argument("circuit: a force far beyond the cell");
  FourMatrix bridge = bridge_admittance(strained(cell.output_ohm, x));
  if (cell.input_ohm < cell.output_ohm) {
    const double across = 1.0 / cell.input_ohm - 1.0 / cell.output_ohm;
    bridge.topLeftCorner<2, 2>() +=
        (Eigen::Matrix2d() << across, -across, -across, across).finished();
  }
  CellPole pole;
  pole.before_ohm = cell.lead_ohm + cell.supply_trim_ohm / 2.0;
  const double supply_ohm = pole.before_ohm + pads_ohm / 2.0;
  const double signal_ohm = cell.lead_ohm + cell.signal_trim_ohm / 2.0;
  pole.series_ohm << supply_ohm, supply_ohm, signal_ohm, signal_ohm;
  pole.inward = behind_series(bridge, pole.series_ohm);
  pole.admittance = bridge * pole.inward;
  pole.slope = bridge_slope(cell.output_ohm, x) * dx_dF;
  return pole;
}

}  // namespace weighwright::signal
