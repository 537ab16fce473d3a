#include "signal/four_pole.h"

#include <Eigen/LU>

namespace weighwright::signal {
Arms strained(double resistance_ohm, double x) {
  return {resistance_ohm * (1.0 - x), resistance_ohm * (1.0 + x), resistance_ohm * (1.0 + x),
          resistance_ohm * (1.0 - x)};
}

FourMatrix bridge_admittance(const Arms& arms) {
  FourMatrix admittance = FourMatrix::Zero();
  join(admittance, supply_plus, signal_plus, 1.0 / arms.plus_plus_ohm);
  join(admittance, supply_plus, signal_minus, 1.0 / arms.plus_minus_ohm);
  join(admittance, supply_minus, signal_plus, 1.0 / arms.minus_plus_ohm);
  join(admittance, supply_minus, signal_minus, 1.0 / arms.minus_minus_ohm);
  return admittance;
}

FourMatrix bridge_slope(double resistance_ohm, double x) {
  const double falling = 1.0 / (resistance_ohm * (1.0 - x) * (1.0 - x));
  const double rising = -1.0 / (resistance_ohm * (1.0 + x) * (1.0 + x));
  FourMatrix slope = FourMatrix::Zero();
  join(slope, supply_plus, signal_plus, falling);
  join(slope, supply_plus, signal_minus, rising);
  join(slope, supply_minus, signal_plus, rising);
  join(slope, supply_minus, signal_minus, falling);
  return slope;
}

FourMatrix behind_series(const FourMatrix& admittance, const FourVector& series_ohm) {
  const FourMatrix system = FourMatrix::Identity() + series_ohm.asDiagonal() * admittance;
  return system.inverse();
}

}  // namespace weighwright::signal
