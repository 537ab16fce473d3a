#include "rehearsal/true_circuit.h"

#include <Eigen/LU>
#include <cmath>

namespace weighwright::rehearsal {
namespace {

using signal::FivePole;
using FiveVector = Eigen::Matrix<double, 5, 1>;

constexpr double kMeter_ohm = 1e7;  // a hand multimeter's input (common practice, no source)

FiveVector cores(double ohm) {
  FiveVector series = FiveVector::Constant(ohm);
  series(signal::kBody) = 0.0;
  return series;
}

/// A network seen through resistances in series with its terminals, and the voltages behind them
/// for those in front.
struct Behind {
  FivePole inward;
  FivePole seen;
};

Behind behind(const FivePole& admittance, const FiveVector& series_ohm) {
  const FivePole inward =
      (FivePole::Identity() + series_ohm.asDiagonal() * admittance).eval().inverse();
  return {inward, admittance * inward};
}

/// All that hangs on the first box's bus. @param load  0: nothing stands on the cells
FivePole at_bus(const TrueCircuit& circuit, const Eigen::VectorXd& force_N, double load) {
  std::vector<FivePole> boxes(circuit.link_ohm.size(), FivePole::Zero());
  for (std::size_t c = 0; c < circuit.cells.size(); ++c) {
    const TrueCell& cell = circuit.cells[c];
    const double strain = cell.bench.zero_V_per_V + cell.fault.zero_shift_V_per_V +
                          load * cell.signal_V_per_V_per_N * force_N(static_cast<Eigen::Index>(c));
    boxes[static_cast<std::size_t>(cell.box)] +=
        signal::bench_admittance(cell.bench, cell.fault, strain);
  }
  for (std::size_t b = boxes.size(); b-- > 1;) {
    boxes[b - 1] += behind(boxes[b], cores(circuit.link_ohm[b])).seen;
  }
  FivePole bus = boxes.front();
  const int leak_to = circuit.leak_S_S > 0.0 ? signal::supply_plus : signal::supply_minus;
  signal::join(bus, signal::signal_plus, leak_to, std::abs(circuit.leak_S_S));
  signal::join(bus, signal::supply_minus, signal::kBody, circuit.body_leak_S);
  return bus;
}

Behind at_entry(const TrueCircuit& circuit, const FivePole& bus) {
  FiveVector contact = FiveVector::Zero();
  contact(signal::supply_plus) = circuit.contact_ohm;
  return behind(bus, contact);
}

}  // namespace

TrueReading read_circuit(const TrueCircuit& circuit, const Eigen::VectorXd& force_N) {
  const Behind entry = at_entry(circuit, at_bus(circuit, force_N, 1.0));
  const Behind home = behind(entry.seen, cores(circuit.home_ohm));
  FivePole all = home.seen;
  if (std::isfinite(circuit.indicator_ohm)) {
    signal::join(all, signal::signal_plus, signal::signal_minus, 1.0 / circuit.indicator_ohm);
  }
  // E+ at the supply, E- at 0; S+, S- and the deck take the potentials at which nothing flows in.
  const Eigen::Matrix3d free = all.bottomRightCorner<3, 3>();
  const Eigen::Vector3d drive =
      -all.block<3, 1>(signal::signal_plus, signal::supply_plus) * circuit.supply_V;
  FiveVector at_indicator_V = FiveVector::Zero();
  at_indicator_V(signal::supply_plus) = circuit.supply_V;
  at_indicator_V.tail<3>() = free.inverse() * drive;
  const FiveVector entry_V = home.inward * at_indicator_V;
  const FiveVector bus_V = entry.inward * entry_V;
  TrueReading reading;
  reading.entry_V = entry_V(signal::supply_plus) - entry_V(signal::supply_minus);
  reading.bus_V = bus_V(signal::supply_plus) - bus_V(signal::supply_minus);
  const double known_V = circuit.sensed ? reading.entry_V : circuit.supply_V;
  reading.V_per_V =
      (at_indicator_V(signal::signal_plus) - at_indicator_V(signal::signal_minus)) / known_V;
  return reading;
}

signal::Readings meter_cell(const TrueCell& cell, double force_N, double bus_V) {
  signal::BenchCell bench = cell.bench;
  bench.load_V_per_V = cell.signal_V_per_V_per_N * force_N;
  bench.supply_V = bus_V;
  return signal::bench_readings(bench, cell.fault, kMeter_ohm);
}

signal::Readings meter_box(const TrueCircuit& circuit, const Eigen::VectorXd& force_N) {
  const TrueReading on = read_circuit(circuit, force_N);
  signal::Readings readings = signal::pole_readings(
      at_bus(circuit, force_N, 0.0), at_bus(circuit, force_N, 1.0), on.bus_V, false, kMeter_ohm);
  readings[static_cast<std::size_t>(signal::Quantity::sense)] =
      circuit.sensed ? on.entry_V : circuit.supply_V;
  return readings;
}

double input_ohm(const TrueCircuit& circuit) {
  const Eigen::VectorXd none =
      Eigen::VectorXd::Zero(static_cast<Eigen::Index>(circuit.cells.size()));
  const signal::Readings readings = signal::pole_readings(
      at_bus(circuit, none, 0.0), at_bus(circuit, none, 0.0), 1.0, false, kMeter_ohm);
  return readings[static_cast<std::size_t>(signal::Quantity::input)];
}

}  // namespace weighwright::rehearsal
