/// Faults of a box with eight cells, built resistor by resistor: 25 t, 2 mV/V, 385 / 350 ohm; home
/// cable of six wires, 2 ohm a core; 0.4 mV/V of dead load on every cell. Our own invention.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "signal/bench.h"
#include "signal/electrics.h"

namespace weighwright::signal::tests {
namespace {

constexpr int kCells = 8;
constexpr double kHome_ohm = 2.0;
constexpr double kRated_N = 25000 * 9.80665;

struct BoxBench {
  std::vector<Bench> cells = std::vector<Bench>(kCells, plain());
  std::vector<Bench::Leak> leaks;
  double contact_ohm = 0.0;
  double source_V = 10.0;
  double sense_share = 1.0;

  static Bench plain() {
    Bench bench;
    bench.zero_V_per_V = 0.0;
    bench.lead_ohm.fill(1e-3);
    return bench;
  }

  /// 0 to 3 the box's terminals, 4 the bodies, then four bridge corners a cell.
  [[nodiscard]] ResistorNetwork network(double load) const {
    ResistorNetwork net(5 + 4 * kCells);
    for (int c = 0; c < kCells; ++c) {
      const Bench& cell = cells[static_cast<std::size_t>(c)];
      const double x = (cell.zero_V_per_V + load * cell.load_V_per_V) * 385.0 / 350.0;
      const int corner = 5 + 4 * c;
      for (int t = 0; t < 4; ++t) {
        const int core = cell.core_at[static_cast<std::size_t>(t)];
        net.add(t, corner + core,
                cell.lead_ohm[static_cast<std::size_t>(core)] + (core < 2 ? cell.pad_ohm : 0.0));
      }
      net.add(corner, corner + 2, cell.arm_ohm[0] * (1 - x));
      net.add(corner, corner + 3, cell.arm_ohm[1] * (1 + x));
      net.add(corner + 1, corner + 2, cell.arm_ohm[2] * (1 + x));
      net.add(corner + 1, corner + 3, cell.arm_ohm[3] * (1 - x));
      net.add(corner + 1, kCase, 2e10);
    }
    for (const Bench::Leak& leak : leaks) net.add(leak.from, leak.to, leak.ohm);
    return net;
  }
};

double ohm(const ResistorNetwork& net, int from, int to, TestMeter& meter) {
  return meter.ohm(net.resistance_ohm(from, to));
}

record::CellElectrics measure(const BoxBench& box, TestMeter& meter) {
  const ResistorNetwork net = box.network(0.0);
  record::CellElectrics row;
  row.input_ohm = ohm(net, kEPlus, kEMinus, meter);
  row.output_ohm = ohm(net, kSPlus, kSMinus, meter);
  row.e_plus_s_plus_ohm = ohm(net, kEPlus, kSPlus, meter);
  row.e_plus_s_minus_ohm = ohm(net, kEPlus, kSMinus, meter);
  row.e_minus_s_plus_ohm = ohm(net, kEMinus, kSPlus, meter);
  row.e_minus_s_minus_ohm = ohm(net, kEMinus, kSMinus, meter);
  const double input_ohm = net.resistance_ohm(kEPlus, kEMinus);
  const double box_V = box.source_V * input_ohm / (input_ohm + 2.0 * kHome_ohm + box.contact_ohm);
  const Eigen::VectorXd volt = box.network(1.0).potentials_V(kEPlus, kEMinus, box_V);
  row.mV = meter.milli(1e3 * (volt(kSPlus) - volt(kSMinus)));
  row.excitation_V = box_V * (1.0 + 0.001 * meter.normal());
  row.sense_V = box_V * box.sense_share * (1.0 + 0.001 * meter.normal());
  return row;
}

deck::Deck deck_of_eight() {
  deck::Deck deck;
  deck.capacity_kg = 60000;
  deck.interval_kg = 20;
  deck.excitation_given = true;
  deck.stands.resize(kCells);
  for (deck::Stand& stand : deck.stands) {
    stand.cell.capacity_kg = 25000;
    stand.cell.output_V_per_V = 2e-3;
    stand.cell.input_ohm = 385;
    stand.cell.output_ohm = 350;
  }
  // 2 ohm a core: 1.5 mm2 by IEC 60228, 13.3 ohm/km
  deck.home_cable = deck::Cable{2000.0 / 13.3, 1.5e-6, 6};
  return deck;
}

CircuitDiagnosis diagnosed(const record::ElectricSet& set) {
  const CircuitDiagnosis all =
      diagnose_circuit(deck_of_eight(), set, std::vector<double>(kCells, 0.2 * kRated_N));
  EXPECT_TRUE(all.faults.empty());
  return all;
}

Diagnosis of_box(const BoxBench& box, std::uint64_t seed) {
  TestMeter meter(seed);
  record::ElectricSet set;
  set.box = measure(box, meter);
  return *diagnosed(set).box;
}

bool leads(const Diagnosis& diagnosis, const std::string& code, int stand = -1) {
  const int best = diagnosis.causes.front().look_alike;
  return std::ranges::any_of(diagnosis.causes, [&](const Cause& cause) {
    return cause.look_alike == best && cause.code == code &&
           (stand < 0 || cause.at == units::StandIndex{stand});
  });
}

std::string told(const Diagnosis& diagnosis) {
  std::string text;
  for (const Cause& cause : diagnosis.causes) {
    text += cause.code + " " + cause.detail + " " + (cause.at ? units::print(*cause.at) : "box") +
            " " + std::to_string(cause.probability) + " class " + std::to_string(cause.look_alike) +
            "\n";
  }
  return text;
}

void expect_found(const BoxBench& box, const std::string& code, int stand = -1) {
  for (std::uint64_t seed = 1; seed <= 3; ++seed) {
    const Diagnosis diagnosis = of_box(box, seed);
    EXPECT_TRUE(leads(diagnosis, code, stand)) << "seed " << seed << "\n" << told(diagnosis);
    if (code != "sound") {
      EXPECT_FALSE(leads(diagnosis, "sound")) << told(diagnosis);
    }
  }
}

TEST(BoxDiagnosis, OfASoundBoxIsSound) {
  expect_found(BoxBench{}, "sound");
  EXPECT_EQ(of_box(BoxBench{}, 7).causes.front().code, "sound");
}

TEST(BoxDiagnosis, FindsABrokenSenseLead) {
  BoxBench box;
  box.sense_share = 0.0;
  expect_found(box, "broken_sense_lead");
  box.sense_share = 0.6;
  expect_found(box, "broken_sense_lead");
}

TEST(BoxDiagnosis, FindsABadContactInASenseLead) {
  BoxBench box;
  box.sense_share = 0.98;
  expect_found(box, "sense_contact");
}

TEST(BoxDiagnosis, FindsACellThatIsNotConnected) {
  BoxBench box;
  box.cells[3].lead_ohm.fill(2e9);
  expect_found(box, "cut_cable", 3);
}

Diagnosis of_volts(std::optional<double> sense_V, std::optional<double> excitation_V) {
  record::ElectricSet set;
  set.box.emplace();
  set.box->sense_V = sense_V;
  set.box->excitation_V = excitation_V;
  return *diagnosed(set).box;
}

// By hand: eight inputs of 385 ohm are 48.125 ohm behind 2 * 2 ohm: 10 V * 48.125 / 52.125.
TEST(BoxDiagnosis, TakesSupplyReadAtTheIndicatorForThat) {
  const double box_V = 10.0 * 48.125 / 52.125;
  const Diagnosis there = of_volts(box_V, box_V);
  EXPECT_EQ(there.causes.front().code, "sound") << told(there);
  EXPECT_TRUE(there.warnings.empty());
  const Diagnosis here = of_volts(box_V, 10.0);
  EXPECT_EQ(here.causes.front().code, "sound") << told(here);
  ASSERT_EQ(here.warnings.size(), 1U);
  EXPECT_NE(here.warnings[0].find("at the indicator"), std::string::npos);
  // Both read high: the supply is what it is, no warning.
  EXPECT_TRUE(of_volts(10.0, 10.0).warnings.empty());
}

TEST(BoxDiagnosis, FindsABadContactInTheSupply) {
  BoxBench box;
  box.contact_ohm = 12.0;
  expect_found(box, "supply_contact");
}

TEST(BoxDiagnosis, FindsThatThereIsNoSupply) {
  BoxBench box;
  box.source_V = 0.0;
  expect_found(box, "no_supply");
}

// All cells alike: the box can tell that one lead is broken, not whose.
TEST(BoxDiagnosis, FindsABrokenLeadOfSomeCell) {
  BoxBench supply;
  supply.cells[2].lead_ohm[kEPlus] = 2e9;
  expect_found(supply, "broken_lead", 2);
  expect_found(supply, "broken_lead", 5);
  BoxBench signal;
  signal.cells[2].lead_ohm[kSMinus] = 2e9;
  expect_found(signal, "broken_lead", 2);
}

TEST(BoxDiagnosis, FindsAReversedCell) {
  BoxBench box;
  box.cells[4].core_at = {kEPlus, kEMinus, kSMinus, kSPlus};
  expect_found(box, "reversed_signal", 4);
}

TEST(BoxDiagnosis, FindsACellOfAnotherKind) {
  BoxBench box;
  box.cells[1].arm_ohm.fill(700);
  box.cells[1].pad_ohm = 30;
  expect_found(box, "wrong_cell", 1);
}

// One cell of the box measured alone and found with a broken lead: then it is that one.
TEST(BoxDiagnosis, TakesOverWhatIsKnownOfACell) {
  BoxBench box;
  box.cells[2].lead_ohm[kEPlus] = 2e9;
  TestMeter meter(4);
  record::ElectricSet set;
  set.box = measure(box, meter);
  set.stands.push_back({units::StandIndex{2}, tests::measure(box.cells[2], meter)});
  const CircuitDiagnosis all = diagnosed(set);
  EXPECT_EQ(all.stands.at(0).causes.front().code, "broken_lead") << told(all.stands.at(0));
  const Cause& first = all.box->causes.front();
  EXPECT_EQ(first.code, "broken_lead");
  EXPECT_EQ(first.at, units::StandIndex{2}) << told(*all.box);
  EXPECT_GT(first.probability, 0.5);
}

}  // namespace
}  // namespace weighwright::signal::tests
