#pragma once
/// A cell with a fault in it, as a circuit on the bench: what a meter would read of it.
///
/// Circuit  Cores E+, E-, S+, S- and the body are terminals. Behind each core its lead and for E
/// the
///          pad; then four arms. A leak joins two cores (at the bridge's end of the leads) or a
///          core and the body. The body may lie on E- (screen grounded where the supply is) or
///          float.
/// Limits   circuit.h. Arms and leads that are open have 100 Gohm, shorted ones 0.5 ohm.

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "signal/electrics.h"
#include "signal/four_pole.h"

namespace weighwright::signal {

inline constexpr int kBody = 4;  // beside the terminals of four_pole.h
inline constexpr int kNone = -1;

/// What is in order with the cell, as fitted.
struct BenchCell {
  double output_ohm = 0.0;
  double pads_ohm = 0.0;  // both; negative: the input is lower, a resistor lies across the supply
  double supply_lead_ohm = 0.0;  // one core, with what is trimmed in it
  double signal_lead_ohm = 0.0;
  double zero_V_per_V = 0.0;
  double load_V_per_V = 0.0;  // what the dead force gives
  double supply_V = 0.0;      // at its terminals
  double insulation_ohm = 0.0;
};

/// What is not.
struct BenchFault {
  int open_arm = kNone;  // 0 E+S+, 1 E+S-, 2 E-S+, 3 E-S-
  int short_arm = kNone;
  int open_lead = kNone;                    // Terminal
  bool all_open = false;                    // every core: the cable is cut
  std::array<int, 4> wired = {0, 1, 2, 3};  // terminal t shows the core wired[t]
  int leak_from = kNone;                    // Terminal
  int leak_to = kNone;                      // Terminal or kBody
  double leak_ohm = 0.0;
  double body_leak_ohm = 0.0;  // from E- to the body beside that; 0: none
  bool body_on_minus = false;
  double other_output_ohm = 0.0;  // of a cell of another kind; 0: as stated
  double other_pads_share = 0.0;
  double output_factor = 1.0;  // of what the force gives
  double zero_shift_V_per_V = 0.0;
  double supply_factor = 1.0;
  double hum_zero_V = 0.0;
  double hum_load_V = 0.0;
};

using Readings = std::array<double, kQuantities>;  // SI, by Quantity; sense: 0

/// Current into E+, E-, S+, S- and body for their potentials, 1/ohm.
using FivePole = Eigen::Matrix<double, 5, 5>;

/// The faulty cell. @param strain_V_per_V  signal over supply
[[nodiscard]] FivePole bench_admittance(const BenchCell& cell,
                                        const BenchFault& fault,
                                        double strain_V_per_V);

/// What a meter reads of a network without and with load: ohms without, mV of both.
/// @param body_on_minus  the body lies on E- while the supply is on
[[nodiscard]] Readings pole_readings(const FivePole& unloaded,
                                     const FivePole& loaded,
                                     double supply_V,
                                     bool body_on_minus,
                                     double meter_ohm);

/// What a meter with this input resistance reads of one cell.
[[nodiscard]] Readings bench_readings(const BenchCell& cell,
                                      const BenchFault& fault,
                                      double meter_ohm);

/// A kind of fault with its free parameters, all of them standard normal beforehand.
struct FaultKind {
  std::string code;
  std::string detail;
  double weight = 0.0;  // prior, relative
  int parameters = 0;
  std::function<BenchFault(const double* parameters)> make;
  std::function<std::vector<Fitted>(const BenchFault&)> fitted;
};

/// Every fault that is looked for in a cell, sound first.
/// @param output_ohm  stated of the cell; empty: types of other resistance are no fault
[[nodiscard]] std::vector<FaultKind> cell_fault_kinds(std::optional<double> output_ohm);

}  // namespace weighwright::signal
