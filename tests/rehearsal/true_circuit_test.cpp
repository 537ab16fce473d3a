// The circuit with faults against worked circuits. Figures: nodal analysis of each circuit apart
// from this project; ngspice 39 (.op) agrees to nine digits. A terminal's contact of 0.01 ohm a
// core takes up to 0.02/385 of the supply here, so that they agree to 1e-4 of the reading.
#include "rehearsal/true_circuit.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace weighwright::rehearsal {
namespace {

constexpr double kRated_N = 25000.0 * 9.80665;
constexpr double kContacts = 1e-4;

TrueCell cell(double output_ohm, double input_ohm) {
  TrueCell cell;
  cell.bench.output_ohm = output_ohm;
  cell.bench.pads_ohm = input_ohm - output_ohm;
  cell.bench.insulation_ohm = 1e13;
  cell.signal_V_per_V_per_N = 2e-3 / kRated_N;
  return cell;
}

TrueCircuit box(int cells, double output_ohm, double input_ohm) {
  TrueCircuit circuit;
  for (int i = 0; i < cells; ++i) circuit.cells.push_back(cell(output_ohm, input_ohm));
  circuit.link_ohm = {0.0};
  circuit.supply_V = 10.0;
  circuit.indicator_ohm = std::numeric_limits<double>::infinity();
  return circuit;
}

Eigen::VectorXd newtons(std::initializer_list<double> kN) {
  Eigen::VectorXd forces(static_cast<Eigen::Index>(kN.size()));
  Eigen::Index i = 0;
  for (const double force : kN) forces(i++) = force * 1e3;
  return forces;
}

double mV(const TrueCircuit& circuit, const Eigen::VectorXd& forces_N) {
  return read_circuit(circuit, forces_N).V_per_V * circuit.supply_V * 1e3;
}

TEST(TrueCircuit, FourCellsInParallel) {
  TrueCircuit circuit = box(4, 350.0, 385.0);
  const Eigen::VectorXd forces_N = newtons({100, 80, 60, 40});
  EXPECT_NEAR(mV(circuit, forces_N), 5.710411, 5.7 * kContacts);
  circuit.indicator_ohm = 100e3;
  EXPECT_NEAR(mV(circuit, forces_N), 5.705419, 5.7 * kContacts);
  circuit.indicator_ohm = std::numeric_limits<double>::infinity();
  circuit.cells[0].bench.signal_lead_ohm = 5.0;
  EXPECT_NEAR(mV(circuit, forces_N), 5.693297, 5.7 * kContacts);
  circuit.cells[0].bench.signal_lead_ohm = 0.0;
  circuit.cells[0].bench.supply_lead_ohm = 5.0;
  EXPECT_NEAR(mV(circuit, forces_N), 5.658780, 5.7 * kContacts);
}

TEST(TrueCircuit, LeaksShiftTheZero) {
  const double leak_ohm = 5e6;
  // A leak lies behind the pads: here there are none, so that it is the worked one at the
  // terminals.
  TrueCircuit alone = box(1, 350.0, 350.0);
  alone.cells[0].fault.leak_from = signal::signal_plus;
  alone.cells[0].fault.leak_to = signal::supply_minus;
  alone.cells[0].fault.leak_ohm = leak_ohm;
  EXPECT_NEAR(mV(alone, newtons({0})), -0.174994, 3e-5);
  TrueCircuit four = box(4, 350.0, 385.0);
  four.leak_S_S = -1.0 / leak_ohm;
  EXPECT_NEAR(mV(four, newtons({0, 0, 0, 0})), -0.043750, 1e-5);
  // U R_s / (4 R_l), the other way to E+.
  four.leak_S_S = 1.0 / leak_ohm;
  EXPECT_NEAR(mV(four, newtons({0, 0, 0, 0})), 10.0e3 * 87.5 / (4.0 * leak_ohm), 1e-5);
}

TEST(TrueCircuit, CableTakesItsPart) {
  TrueCircuit circuit = box(6, 700.0, 775.0);
  const Eigen::VectorXd forces_N = newtons({13.3, 13.3, 25, 25, 13.3, 13.3});
  EXPECT_NEAR(mV(circuit, forces_N), 1.4031295, 1.4 * kContacts);
  circuit.home_ohm = 1.17;
  EXPECT_NEAR(mV(circuit, forces_N), 1.3781625, 1.4 * kContacts);
  EXPECT_NEAR(read_circuit(circuit, forces_N).entry_V, 9.822062, 1e-3);
  // Sensed: the ratio at the box, as without cable.
  circuit.sensed = true;
  EXPECT_NEAR(mV(circuit, forces_N), 1.4031295, 1.4 * kContacts);
  // A contact behind the sense terminals is not made good: R_p = 775 / 6.
  circuit.contact_ohm = 2.0;
  const double passes = (775.0 / 6.0) / (775.0 / 6.0 + 2.0);
  EXPECT_NEAR(mV(circuit, forces_N), 1.4031295 * passes, 1.4 * kContacts);
  const signal::Readings meter = meter_box(circuit, forces_N);
  const auto at = [&](signal::Quantity one) { return meter[static_cast<std::size_t>(one)]; };
  EXPECT_NEAR(at(signal::Quantity::excitation) / at(signal::Quantity::sense), passes, 1e-4);
}

TEST(TrueCircuit, AgreesWithTheSoundCircuit) {
  signal::Wiring wiring;
  TrueCircuit circuit = box(8, 700.0, 775.0);
  for (int i = 0; i < 8; ++i) {
    wiring.cells.push_back({.rated_N = kRated_N,
                            .output_V_per_V = 2e-3,
                            .zero_V_per_V = 1e-5 * i,
                            .input_ohm = 775.0,
                            .output_ohm = 700.0,
                            .lead_ohm = 0.39,
                            .signal_trim_ohm = 0.5 * i,
                            .box = i / 4});
    TrueCell& cell = circuit.cells[static_cast<std::size_t>(i)];
    cell.bench.zero_V_per_V = 1e-5 * i;
    cell.bench.supply_lead_ohm = 0.39;
    cell.bench.signal_lead_ohm = 0.39 + 0.25 * i;
    cell.box = i / 4;
  }
  wiring.boxes = {{.link_ohm = 0.0}, {.link_ohm = 0.6}};
  wiring.home_ohm = circuit.home_ohm = 1.17;
  circuit.link_ohm = {0.0, 0.6};
  for (const bool sensed : {false, true}) {
    wiring.sensed = circuit.sensed = sensed;
    const Eigen::VectorXd forces_N = newtons({13, 14, 25, 24, 23, 26, 12, 13});
    const double sound = signal::solve(wiring, forces_N).reading_V_per_V;
    EXPECT_NEAR(read_circuit(circuit, forces_N).V_per_V, sound, kContacts * sound);
  }
}

}  // namespace
}  // namespace weighwright::rehearsal
