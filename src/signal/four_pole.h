#pragma once
/// A resistive network seen from its four terminals E+, E-, S+, S-: what flows in at given
/// voltages.
///
/// Model   i = Y v, Y symmetric with rows that sum to zero. Resistances in series with the
/// terminals
///         (leads, trims, pads, a cable of four cores) turn Y into Y (I + R Y)^-1, R diagonal, and
///         the voltages behind them are (I + R Y)^-1 v. That holds for R = 0 too, so that no cable
///         needs no special case. It is the Schur complement of the inner nodes of nodal analysis.
/// Source  Nodal analysis, Kron reduction (any text on linear networks; from memory, unverified).

#include <Eigen/Core>

namespace weighwright::signal {

using FourVector = Eigen::Matrix<double, 4, 1>;  // E+, E-, S+, S-: V, A or ohm
using FourMatrix = Eigen::Matrix<double, 4, 4>;  // 1/ohm, or a ratio of voltages

enum Terminal { supply_plus = 0, supply_minus = 1, signal_plus = 2, signal_minus = 3 };

/// Adds a conductance between two nodes of an admittance matrix.
template <class Matrix>
void join(Matrix& admittance, int from, int to, double siemens) {
  admittance(from, from) += siemens;
  admittance(to, to) += siemens;
  admittance(from, to) -= siemens;
  admittance(to, from) -= siemens;
}

/// Arms of a bridge. A force raises S+ against S-: it lets E+S+ and E-S- fall.
struct Arms {
  double plus_plus_ohm = 0.0;    // E+ to S+
  double plus_minus_ohm = 0.0;   // E+ to S-
  double minus_plus_ohm = 0.0;   // E- to S+
  double minus_minus_ohm = 0.0;  // E- to S-
};

/// Arms R (1 -+ x) of a bridge with resistance R.
[[nodiscard]] Arms strained(double resistance_ohm, double x);

/// Y of four arms alone.
[[nodiscard]] FourMatrix bridge_admittance(const Arms& arms);

/// dY/dx of bridge_admittance(strained(R, x)).
[[nodiscard]] FourMatrix bridge_slope(double resistance_ohm, double x);

/// (I + R Y)^-1: voltages behind series resistances for those in front of them.
[[nodiscard]] FourMatrix behind_series(const FourMatrix& admittance, const FourVector& series_ohm);

}  // namespace weighwright::signal
