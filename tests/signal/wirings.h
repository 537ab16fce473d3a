#pragma once
/// Circuits by hand for the tests: our own inventions.

#include <Eigen/Core>
#include <initializer_list>

#include "signal/circuit.h"

namespace weighwright::signal::tests {

inline constexpr double kRated25t_N = 25000.0 * 9.80665;

/// 25 t, 2 mV/V.
inline WiredCell cell_25t(double input_ohm, double output_ohm) {
  WiredCell cell;
  cell.rated_N = kRated25t_N;
  cell.output_V_per_V = 2e-3;
  cell.input_ohm = input_ohm;
  cell.output_ohm = output_ohm;
  return cell;
}

inline Wiring equal_cells(int count, double input_ohm, double output_ohm) {
  Wiring wiring;
  wiring.boxes.resize(1);
  wiring.cells.assign(static_cast<std::size_t>(count), cell_25t(input_ohm, output_ohm));
  return wiring;
}

inline Eigen::VectorXd kilonewtons(std::initializer_list<double> forces_kN) {
  Eigen::VectorXd forces_N(static_cast<Eigen::Index>(forces_kN.size()));
  Eigen::Index i = 0;
  for (double force_kN : forces_kN) forces_N(i++) = 1000.0 * force_kN;
  return forces_N;
}

}  // namespace weighwright::signal::tests
