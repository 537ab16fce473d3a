#pragma once
/// A cell on a bench for the tests, wired resistor by resistor: a second way to the readings,
/// beside the program's own circuits of faults.

#include <array>
#include <vector>

#include "chance/counter_random.h"
#include "record/measurement.h"
#include "signal/network.h"

namespace weighwright::signal::tests {

inline constexpr int kEPlus = 0, kEMinus = 1, kSPlus = 2, kSMinus = 3, kCase = 4;

struct Bench {
  double pad_ohm = 17.5;  // in each supply lead
  // E+S+, E+S-, E-S+, E-S-: unloaded
  std::array<double, 4> arm_ohm = {350, 350, 350, 350};
  std::array<double, 4> lead_ohm = {0.3, 0.3, 0.3, 0.3};
  std::array<int, 4> core_at = {kEPlus, kEMinus, kSPlus, kSMinus};  // core at each terminal
  struct Leak {
    int from, to;
    double ohm;
  };
  std::vector<Leak> leaks = {{kEMinus, kCase, 2e10}};
  bool case_on_minus = false;
  double supply_V = 10.0;
  double zero_V_per_V = 5e-6;
  double load_V_per_V = 0.4e-3;
  double hum_V = 0.0;

  [[nodiscard]] ResistorNetwork network(double signal_V_per_V) const {
    ResistorNetwork net(10);  // terminals, case, bridge corners; 9 is the end of nothing
    const double x = signal_V_per_V * (350.0 + 2.0 * pad_ohm) / 350.0;
    for (int t = 0; t < 4; ++t) {
      const int core = core_at[static_cast<std::size_t>(t)];
      const double pad = core < 2 ? pad_ohm : 0.0;
      net.add(t, 5 + core, lead_ohm[static_cast<std::size_t>(core)] + pad);
    }
    net.add(5, 7, arm_ohm[0] * (1 - x));
    net.add(5, 8, arm_ohm[1] * (1 + x));
    net.add(6, 7, arm_ohm[2] * (1 + x));
    net.add(6, 8, arm_ohm[3] * (1 - x));
    for (const Leak& leak : leaks)
      net.add(5 + leak.from, leak.to == kCase ? kCase : 5 + leak.to, leak.ohm);
    return net;
  }

  [[nodiscard]] double signal_mV(double signal_V_per_V) const {
    ResistorNetwork net = network(signal_V_per_V);
    net.add(kSPlus, kSMinus, 1e7);  // the meter
    if (case_on_minus) net.add(kCase, kEMinus, 1e-3);
    const Eigen::VectorXd volt = net.potentials_V(kEPlus, kEMinus, supply_V);
    return 1e3 * (volt(kSPlus) - volt(kSMinus));
  }

  [[nodiscard]] double insulation_ohm(double signal_V_per_V) const {
    ResistorNetwork net = network(signal_V_per_V);
    for (int t = 1; t < 4; ++t) net.add(0, t, 1e-3);  // all cores twisted together
    return net.resistance_ohm(0, kCase);
  }
};

/// A meter with the scatter of a hand multimeter.
class TestMeter {
 public:
  explicit TestMeter(std::uint64_t seed) : random_(seed) {}
  double ohm(double value) {
    if (value > 2e7) return std::numeric_limits<double>::infinity();
    return std::max(0.0, value * (1.0 + 0.003 * random_.normal()) + 0.2 * random_.normal());
  }
  double milli(double mV) {
    return mV * (1.0 + 0.001 * random_.normal()) + 0.01 * random_.normal();
  }
  double insulation(double ohm) { return std::min(2e10, ohm * (1.0 + 0.2 * random_.uniform())); }
  double normal() { return random_.normal(); }

 private:
  chance::CounterRandom random_;
};

/// Everything that can be measured of a cell.
inline record::CellElectrics measure(const Bench& bench, TestMeter& meter) {
  const ResistorNetwork net = bench.network(bench.zero_V_per_V);
  record::CellElectrics row;
  row.input_ohm = meter.ohm(net.resistance_ohm(kEPlus, kEMinus));
  row.output_ohm = meter.ohm(net.resistance_ohm(kSPlus, kSMinus));
  row.e_plus_s_plus_ohm = meter.ohm(net.resistance_ohm(kEPlus, kSPlus));
  row.e_plus_s_minus_ohm = meter.ohm(net.resistance_ohm(kEPlus, kSMinus));
  row.e_minus_s_plus_ohm = meter.ohm(net.resistance_ohm(kEMinus, kSPlus));
  row.e_minus_s_minus_ohm = meter.ohm(net.resistance_ohm(kEMinus, kSMinus));
  row.insulation_ohm = meter.insulation(bench.insulation_ohm(bench.zero_V_per_V));
  row.test_V = 50.0;
  row.zero_mV =
      meter.milli(bench.signal_mV(bench.zero_V_per_V)) + bench.hum_V * 1e3 * meter.normal();
  row.mV = meter.milli(bench.signal_mV(bench.zero_V_per_V + bench.load_V_per_V)) +
           bench.hum_V * 1e3 * meter.normal();
  row.excitation_V = bench.supply_V * (1.0 + 0.001 * meter.normal());
  return row;
}

}  // namespace weighwright::signal::tests
