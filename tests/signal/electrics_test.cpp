/// Faults built resistor by resistor (bench.h), read with a noisy meter, must come out first. The
/// cell is our own invention: 25 t, 2 mV/V, 385 / 350 ohm, at 10 V.

#include "signal/electrics.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "signal/bench.h"
#include "signal/bench_fault.h"

namespace weighwright::signal::tests {
namespace {

constexpr double kRated_N = 25000 * 9.80665;
constexpr double kInfinite = std::numeric_limits<double>::infinity();
constexpr int kSeeds = 5;

deck::Deck deck_of(int stands) {
  deck::Deck deck;
  deck.capacity_kg = 60000;
  deck.interval_kg = 20;
  deck.excitation_V = 10;
  deck.excitation_given = true;
  deck.stands.resize(static_cast<std::size_t>(stands));
  for (deck::Stand& stand : deck.stands) {
    stand.cell.capacity_kg = 25000;
    stand.cell.output_V_per_V = 2e-3;
    stand.cell.input_ohm = 385;
    stand.cell.output_ohm = 350;
  }
  return deck;
}

/// Dead load that gives 0.4 mV/V at every cell, as Bench has it.
std::vector<double> dead(int stands) {
  return std::vector<double>(static_cast<std::size_t>(stands), 0.2 * kRated_N);
}

Diagnosis diagnosed(const record::CellElectrics& row,
                    const deck::Deck& deck = deck_of(4),
                    const DiagnosisSettings& settings = {}) {
  record::ElectricSet set;
  set.stands = {{units::StandIndex{1}, row}};
  const CircuitDiagnosis all = diagnose_circuit(deck, set, dead(deck.stand_count()), settings);
  EXPECT_TRUE(all.faults.empty());
  return all.stands.at(0);
}

/// The named cause leads, or is in the leader's class.
bool leads(const Diagnosis& diagnosis, const std::string& code, const std::string& detail = "") {
  const int best = diagnosis.causes.front().look_alike;
  return std::ranges::any_of(diagnosis.causes, [&](const Cause& cause) {
    return cause.look_alike == best && cause.code == code &&
           (detail.empty() || cause.detail == detail);
  });
}

std::string told(const Diagnosis& diagnosis) {
  std::string text;
  for (const Cause& cause : diagnosis.causes) {
    text += cause.code + " " + cause.detail + " " + std::to_string(cause.probability) + " class " +
            std::to_string(cause.look_alike) + "\n";
  }
  return text;
}

/// @param sure  the readings rule a sound cell out
void expect_found(const Bench& bench,
                  const std::string& code,
                  const std::string& detail = "",
                  bool sure = true,
                  const DiagnosisSettings& settings = {}) {
  for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
    TestMeter meter(seed);
    const Diagnosis diagnosis = diagnosed(measure(bench, meter), deck_of(4), settings);
    EXPECT_TRUE(leads(diagnosis, code, detail)) << "seed " << seed << "\n" << told(diagnosis);
    if (code != "sound" && sure) {
      EXPECT_FALSE(leads(diagnosis, "sound")) << told(diagnosis);
    }
    EXPECT_FALSE(diagnosis.unexplained);
  }
}

const std::array<std::string, 4> kArms = {"E+ S+", "E+ S-", "E- S+", "E- S-"};
const std::array<std::string, 4> kCores = {"E+", "E-", "S+", "S-"};

// By hand: four arms of 350 ohm, 17.5 ohm in each supply lead. Across one arm 3/4 of it, and the
// pad.
TEST(BenchCircuit, OfASoundCellReadsAsByHand) {
  BenchCell cell;
  cell.output_ohm = 350;
  cell.pads_ohm = 35;
  cell.supply_V = 10;
  cell.load_V_per_V = 0.4e-3;
  cell.insulation_ohm = 2e10;
  const Readings readings = bench_readings(cell, {}, 1e12);
  const auto of = [&](Quantity quantity) { return readings[static_cast<std::size_t>(quantity)]; };
  // 10 mohm of clamp in every lead
  EXPECT_NEAR(of(Quantity::input), 385.0, 0.03);
  EXPECT_NEAR(of(Quantity::output), 350.0, 0.03);
  EXPECT_NEAR(of(Quantity::e_plus_s_plus), 280.0, 0.03);
  EXPECT_NEAR(of(Quantity::e_minus_s_minus), 280.0, 0.03);
  EXPECT_NEAR(of(Quantity::insulation), 2e10, 0.01 * 2e10);
  EXPECT_NEAR(of(Quantity::zero), 0.0, 1e-9);
  EXPECT_NEAR(of(Quantity::signal), 4e-3, 1e-6);
}

// By hand. Arm E+ S+ open: 2 R from S+ over E- to S-, and 2 R from E+ over S- to E-, and the pads.
// Arm E+ S+ shorted: R beside 2 R either way.
TEST(BenchCircuit, OfABrokenArmReadsAsByHand) {
  BenchCell cell;
  cell.output_ohm = 350;
  cell.pads_ohm = 35;
  cell.supply_V = 10;
  cell.insulation_ohm = 2e10;
  BenchFault open;
  open.open_arm = 0;
  const Readings of_open = bench_readings(cell, open, 1e12);
  EXPECT_NEAR(of_open[static_cast<std::size_t>(Quantity::output)], 700.0, 0.1);
  EXPECT_NEAR(of_open[static_cast<std::size_t>(Quantity::input)], 735.0, 0.1);
  BenchFault shorted;
  shorted.short_arm = 0;
  const Readings of_shorted = bench_readings(cell, shorted, 1e12);
  EXPECT_NEAR(of_shorted[static_cast<std::size_t>(Quantity::output)], 700.0 / 3.0, 0.5);
  EXPECT_NEAR(of_shorted[static_cast<std::size_t>(Quantity::input)], 700.0 / 3.0 + 35.0, 0.5);
}

// ngspice 39: 5 Mohm from S+ to E- of one 350 ohm cell at 10 V: -0.174994 mV.
TEST(BenchCircuit, OfALeakShiftsZeroAsNgspiceSays) {
  BenchCell cell;
  cell.output_ohm = 350;
  cell.supply_V = 10;
  cell.insulation_ohm = 1e13;
  BenchFault leak;
  leak.leak_from = signal_plus;
  leak.leak_to = supply_minus;
  leak.leak_ohm = 5e6;
  const Readings readings = bench_readings(cell, leak, 1e12);
  EXPECT_NEAR(1e3 * readings[static_cast<std::size_t>(Quantity::zero)], -0.174994, 2e-5);
}

TEST(CellDiagnosis, OfASoundCellIsSound) {
  expect_found(Bench{}, "sound");
  TestMeter meter(99);
  const Diagnosis diagnosis = diagnosed(measure(Bench{}, meter));
  EXPECT_EQ(diagnosis.causes.front().code, "sound");
  EXPECT_GT(diagnosis.causes.front().probability, 0.8);
}

TEST(CellDiagnosis, FindsTheOpenArm) {
  for (std::size_t arm = 0; arm < 4; ++arm) {
    Bench bench;
    bench.arm_ohm[arm] = 5e8;
    expect_found(bench, "open_arm", kArms[arm]);
  }
}

TEST(CellDiagnosis, FindsTheShortedArm) {
  for (std::size_t arm = 0; arm < 4; ++arm) {
    Bench bench;
    bench.arm_ohm[arm] = 0.8;
    expect_found(bench, "shorted_arm", kArms[arm]);
  }
}

TEST(CellDiagnosis, FindsTheBrokenLead) {
  for (std::size_t core = 0; core < 4; ++core) {
    Bench bench;
    bench.lead_ohm[core] = 3e9;
    expect_found(bench, "broken_lead", kCores[core]);
  }
}

TEST(CellDiagnosis, FindsTheCutCable) {
  Bench bench;
  bench.lead_ohm.fill(3e9);
  expect_found(bench, "cut_cable");
}

// The supply read behind the break is nothing; the signal pair is sound.
TEST(CellDiagnosis, FindsABrokenSupplyCoreWhenThereIsNoVoltageBehindIt) {
  record::CellElectrics row;
  row.input_ohm = kInfinite;
  row.output_ohm = 350.0;
  row.excitation_V = 0.0;
  EXPECT_EQ(diagnosed(row).causes.front().code, "broken_lead") << told(diagnosed(row));
}

// By hand: an open arm unbalances the bridge by about half of its supply, volts where the meter's
// range of mV has long ended.
TEST(CellDiagnosis, TakesSignalsOverTheRangeForAnArm) {
  record::CellElectrics row;
  row.input_ohm = 735.0;
  row.output_ohm = 700.0;
  row.zero_mV = kInfinite;
  row.excitation_V = 10.0;
  const Diagnosis diagnosis = diagnosed(row);
  EXPECT_EQ(diagnosis.causes.front().code, "open_arm") << told(diagnosis);
  EXPECT_TRUE(diagnosis.which);
  EXPECT_FALSE(leads(diagnosis, "wrong_cell"));
}

CircuitDiagnosis without_papers(const std::vector<std::array<double, 2>>& ohm) {
  deck::Deck deck = deck_of(4);
  for (deck::Stand& stand : deck.stands) stand.cell.input_ohm = stand.cell.output_ohm = 0.0;
  record::ElectricSet set;
  for (std::size_t i = 0; i < ohm.size(); ++i) {
    record::CellElectrics row;
    row.input_ohm = ohm[i][0];
    row.output_ohm = ohm[i][1];
    set.stands.emplace_back(units::StandIndex{static_cast<int>(i)}, row);
  }
  return diagnose_circuit(deck, set, dead(4));
}

double chance_of(const Diagnosis& diagnosis, const std::string& code) {
  double sum = 0.0;
  for (const Cause& cause : diagnosis.causes) sum += cause.code == code ? cause.probability : 0.0;
  return sum;
}

// What the deck file does not say can't be held against a cell: usual bridges have 350 to 1000 ohm.
TEST(CellDiagnosis, OfCellsWithoutPapersComparesThemWithOneAnother) {
  for (const double size : {1.0, 2.0, 1000.0 / 350.0}) {
    const CircuitDiagnosis alike = without_papers({{400 * size, 350 * size},
                                                   {402 * size, 351 * size},
                                                   {401 * size, 350 * size},
                                                   {399 * size, 350 * size}});
    for (const Diagnosis& one : alike.stands) {
      EXPECT_EQ(one.causes.front().code, "sound") << told(one);
      EXPECT_GT(chance_of(one, "sound"), 0.7) << told(one);
    }
  }
  const CircuitDiagnosis odd = without_papers({{750, 700}, {402, 351}, {401, 350}, {399, 350}});
  EXPECT_LT(chance_of(odd.stands[0], "sound"), 0.01) << told(odd.stands[0]);
  EXPECT_EQ(odd.stands[0].causes.front().evidence.front().basis, "cells");
  for (std::size_t i = 1; i < 4; ++i) EXPECT_GT(chance_of(odd.stands[i], "sound"), 0.7);
  const CircuitDiagnosis alone = without_papers({{750, 700}});
  EXPECT_GT(chance_of(alone.stands[0], "sound"), 0.6) << told(alone.stands[0]);
}

// Twist of the dead load, + - - +, on a deck that nobody has shared yet.
TEST(CellDiagnosis, OfCellsBeforeSharingTakesTwistForNoFault) {
  for (const double share : {1.6, 0.4, 0.0}) {
    Bench bench;
    bench.load_V_per_V *= share;
    TestMeter meter(21);
    const Diagnosis diagnosis = diagnosed(measure(bench, meter));
    EXPECT_EQ(diagnosis.causes.front().code, share > 0.0 ? "sound" : "no_load") << told(diagnosis);
    EXPECT_GT(diagnosis.causes.front().probability, 0.8) << told(diagnosis);
  }
}

TEST(CellDiagnosis, FindsMoisture) {
  for (const double ohm : {3e5, 5e6, 3e7}) {
    Bench across;
    across.leaks.push_back({kSPlus, kEMinus, ohm});
    // 5 Mohm are 0.17 mV, and a sound zero may be 0.2 mV: only the first is sure.
    expect_found(across, "moisture", "", ohm < 1e6);
    Bench to_case;
    to_case.case_on_minus = true;
    to_case.leaks.push_back({kSMinus, kCase, ohm});
    expect_found(to_case, "moisture", "S- to the grounded body");
  }
}

// Water that lies between two cores and reaches the body too: two paths of different size.
TEST(CellDiagnosis, FindsWaterInside) {
  Bench bench;
  bench.leaks.push_back({kSPlus, kEMinus, 4e5});
  bench.leaks.push_back({kEPlus, kCase, 2e6});
  expect_found(bench, "moisture", "S+ to E-, and to the body");
}

// An open signal core: the meter pulls it to the other one and shows nothing.
TEST(CellDiagnosis, TakesADeadSignalForBrokenLeadOrNoSupply) {
  record::CellElectrics row;
  row.mV = 0.0;
  const Diagnosis diagnosis = diagnosed(row);
  EXPECT_TRUE(leads(diagnosis, "no_supply"));
  for (const std::string& core : kCores) EXPECT_TRUE(leads(diagnosis, "broken_lead", core));
}

// U R / (4 R_l) of 2 Mohm: 0.44 mV. The certificate's zero is good to some 0.05 mV, so that the
// size of the leak comes out within a quarter or so.
TEST(CellDiagnosis, TellsTheSizeOfALeak) {
  Bench bench;
  bench.leaks.push_back({kSPlus, kEMinus, 2e6});
  TestMeter meter(5);
  deck::Deck deck = deck_of(4);
  for (deck::Stand& stand : deck.stands) stand.cell.zero_V_per_V = 5e-6;
  const Diagnosis diagnosis = diagnosed(measure(bench, meter), deck);
  const auto at = std::ranges::find(diagnosis.causes, std::string("S+ to E-"), &Cause::detail);
  ASSERT_NE(at, diagnosis.causes.end()) << told(diagnosis);
  EXPECT_TRUE(leads(diagnosis, "moisture", "S+ to E-")) << told(diagnosis);
  ASSERT_EQ(at->fitted.at(0).name, "leak_ohm");
  EXPECT_NEAR(std::log(at->fitted[0].value / 2e6), 0.0, 0.5);
}

TEST(CellDiagnosis, FindsExchangedPairs) {
  Bench bench;
  bench.core_at = {kSPlus, kSMinus, kEPlus, kEMinus};
  expect_found(bench, "swapped_pairs");
}

// No meter can tell which of the two pairs is the wrong way round: both are named, as one class.
TEST(CellDiagnosis, PutsReversedSignalAndReversedSupplyInOneClass) {
  Bench signal;
  signal.core_at = {kEPlus, kEMinus, kSMinus, kSPlus};
  expect_found(signal, "reversed_signal");
  expect_found(signal, "reversed_supply");
  Bench supply;
  supply.core_at = {kEMinus, kEPlus, kSPlus, kSMinus};
  expect_found(supply, "reversed_supply");
}

TEST(CellDiagnosis, FindsACellOfAnotherKind) {
  Bench bench;
  bench.arm_ohm = {700, 700, 700, 700};
  bench.pad_ohm = 30;
  expect_found(bench, "wrong_cell", "700 ohm");
  bench.arm_ohm = {1000, 1000, 1000, 1000};
  bench.pad_ohm = 50;
  bench.load_V_per_V = 0.6e-3;
  expect_found(bench, "wrong_cell", "1000 ohm");
  Bench rating;  // 12.5 t among 25 t
  rating.load_V_per_V = 0.8e-3;
  // Before a deck is shared twist could double a cell's load; after that only a rating can.
  DiagnosisSettings shared;
  shared.force_share = 0.1;
  expect_found(rating, "wrong_cell", "same resistance, other rating", true, shared);
}

TEST(CellDiagnosis, FindsOverload) {
  Bench bench;
  bench.zero_V_per_V = 0.9e-3;
  expect_found(bench, "overload");
  bench.zero_V_per_V = -0.5e-3;
  expect_found(bench, "overload");
}

TEST(CellDiagnosis, FindsAScreenOnACore) {
  Bench bench;
  bench.leaks.push_back({kEPlus, kCase, 2.0});
  expect_found(bench, "screen_on_core");
}

TEST(CellDiagnosis, FindsThatThereIsNoSupply) {
  Bench bench;
  bench.supply_V = 0.0;
  expect_found(bench, "no_supply");
}

// A screen that is loose leaves every resistance sound and lets the volts scatter: by 0.3 mV, which
// a zero beyond its papers could do too, so that one of a few seeds may take it for an overload.
TEST(CellDiagnosis, KeepsALooseScreenInMind) {
  Bench bench;
  bench.hum_V = 0.3e-3;
  int listed = 0;
  for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
    TestMeter meter(seed);
    const Diagnosis diagnosis = diagnosed(measure(bench, meter));
    for (const Cause& cause : diagnosis.causes) {
      if (cause.code == "loose_screen" && cause.probability > 0.01) ++listed;
    }
  }
  EXPECT_GE(listed, kSeeds - 1);
}

TEST(CellDiagnosis, SaysWhenNoCircuitFits) {
  TestMeter meter(3);
  record::CellElectrics row = measure(Bench{}, meter);
  row.input_ohm = 12000;
  row.output_ohm = 52;
  row.e_plus_s_plus_ohm = 4000;
  EXPECT_TRUE(diagnosed(row).unexplained);
}

// A dead signal with the supply there: a lead is broken, and only resistances tell which pair.
TEST(NextMeasurement, SeparatesTheTwoLeadingCauses) {
  record::CellElectrics row;
  row.zero_mV = 0.0;
  row.mV = 0.0;
  row.excitation_V = 10.0;
  const Diagnosis diagnosis = diagnosed(row);
  ASSERT_TRUE(diagnosis.next) << told(diagnosis);
  EXPECT_GT(diagnosis.next->separation, 5.0);
  EXPECT_EQ(unit_of(diagnosis.next->quantity), "ohm");
  EXPECT_NE(diagnosis.next->first_detail, diagnosis.next->second_detail);
}

// By hand: an open arm E+ S+ doubles both resistances as a 700 ohm cell does, but across that arm a
// meter sees 3 R and the pad in place of 3/4 of 700 ohm and the pad.
TEST(NextMeasurement, GoesAcrossAnArmWhenBothResistancesHaveDoubled) {
  record::CellElectrics row;
  row.input_ohm = 735.0;
  row.output_ohm = 700.0;
  const Diagnosis diagnosis = diagnosed(row);
  ASSERT_EQ(diagnosis.causes.front().code, "open_arm") << told(diagnosis);
  ASSERT_TRUE(diagnosis.next);
  const std::vector<std::string> both = {diagnosis.next->first, diagnosis.next->second};
  EXPECT_EQ(both, (std::vector<std::string>{"open_arm", "wrong_cell"}));
  EXPECT_TRUE(diagnosis.next->quantity >= Quantity::e_plus_s_plus &&
              diagnosis.next->quantity <= Quantity::e_minus_s_minus);
  EXPECT_NEAR(diagnosis.next->if_first, 3 * 350.0 + 17.5, 5.0);
  EXPECT_NEAR(diagnosis.next->if_second, 0.75 * 700.0 + 17.5, 25.0);
}

// Zero has moved: water or a blow. Insulation is what water to the body changes.
TEST(NextMeasurement, LeadsToTheTruthStepByStep) {
  Bench bench;
  bench.case_on_minus = true;
  bench.leaks.push_back({kSPlus, kCase, 2e6});
  TestMeter meter(8);
  const record::CellElectrics all = measure(bench, meter);
  record::CellElectrics row;
  row.input_ohm = all.input_ohm;
  row.output_ohm = all.output_ohm;
  row.zero_mV = all.zero_mV;
  row.excitation_V = all.excitation_V;
  const Diagnosis before = diagnosed(row);
  EXPECT_FALSE(before.causes.front().code == "moisture" && before.causes.front().probability > 0.9);
  row.insulation_ohm = all.insulation_ohm;
  row.test_V = 50;
  const Diagnosis after = diagnosed(row);
  EXPECT_EQ(after.causes.front().code, "moisture") << told(after);
  EXPECT_EQ(after.causes.front().evidence.front().quantity, Quantity::insulation);
}

TEST(Evidence, ShowsMeasuredSoundAndCause) {
  Bench bench;
  bench.arm_ohm[0] = 5e8;
  TestMeter meter(2);
  const Diagnosis diagnosis = diagnosed(measure(bench, meter));
  const Cause& cause = diagnosis.causes.front();
  ASSERT_EQ(cause.code, "open_arm");
  const auto output = std::ranges::find(cause.evidence, Quantity::output, &Evidence::quantity);
  ASSERT_NE(output, cause.evidence.end());
  EXPECT_NEAR(output->measured, 700.6, 10.0);  // 2 R and two leads
  EXPECT_NEAR(output->if_cause, 700.6, 10.0);
  EXPECT_LT(output->if_sound, 450.0);
  EXPECT_GT(output->speaks, 10.0);
  EXPECT_NEAR(output->expected, 350.0, 0.1);
  EXPECT_LT(output->tolerance, 10.0);
  EXPECT_GT(output->departs, 10.0);
  EXPECT_EQ(output->basis, "papers");
  double sum = 0.0;
  for (const Cause& one : diagnosis.causes) sum += one.probability;
  EXPECT_NEAR(sum, 1.0, 0.01);
}

// Whatever a meter may show, there is an answer: chances between nothing and one, one in all.
TEST(CellDiagnosis, AnswersAnyReadings) {
  chance::CounterRandom random(11);
  const auto any_ohm = [&random]() -> std::optional<double> {
    const int kind = random.below(5);
    if (kind == 0) return std::nullopt;
    if (kind == 1) return 0.0;
    if (kind == 2) return kInfinite;
    return std::pow(10.0, 12.0 * random.uniform() - 2.0);
  };
  for (int i = 0; i < 30; ++i) {
    record::CellElectrics row;
    row.input_ohm = any_ohm();
    row.output_ohm = any_ohm();
    row.e_plus_s_plus_ohm = any_ohm();
    row.e_minus_s_minus_ohm = any_ohm();
    row.insulation_ohm = any_ohm();
    row.test_V = 50.0;
    row.zero_mV = 1e4 * random.normal();
    row.excitation_V = 100.0 * random.normal();
    const Diagnosis diagnosis = diagnosed(row);
    ASSERT_FALSE(diagnosis.causes.empty());
    double sum = 0.0;
    for (const Cause& cause : diagnosis.causes) {
      EXPECT_TRUE(cause.probability >= 0.0 && cause.probability <= 1.0);
      sum += cause.probability;
    }
    EXPECT_LE(sum, 1.0 + 1e-9);
    EXPECT_GT(sum, 0.99);
  }
}

units::Diagnostics faults_of(const record::CellElectrics& row, int stand = 1) {
  record::ElectricSet set;
  set.source = "meter.csv";
  set.stands = {{units::StandIndex{stand}, row}};
  return diagnose_circuit(deck_of(4), set, dead(4)).faults;
}

TEST(Refusal, OfInsulationWithoutItsVoltage) {
  record::CellElectrics row;
  row.insulation_ohm = 5e9;
  row.line = 3;
  const units::Diagnostics faults = faults_of(row);
  ASSERT_EQ(faults.size(), 1U);
  EXPECT_EQ(faults[0].line, 3);
  EXPECT_NE(faults[0].expected.find("50 V DC"), std::string::npos);
  EXPECT_NE(faults[0].expected.find("off box and indicator"), std::string::npos);
}

TEST(Refusal, OfWhatIsNoReading) {
  record::CellElectrics row;
  row.input_ohm = -1;
  EXPECT_EQ(faults_of(row).size(), 1U);
  row.input_ohm = std::nan("");
  EXPECT_EQ(faults_of(row).size(), 1U);
  row.input_ohm = kInfinite;  // the meter's overload
  EXPECT_TRUE(faults_of(row).empty());
  row.mV = kInfinite;  // over the meter's range of mV
  EXPECT_TRUE(faults_of(row).empty());
  row.excitation_V = kInfinite;
  EXPECT_EQ(faults_of(row).size(), 1U);
  EXPECT_EQ(faults_of(record::CellElectrics{}, 9).size(), 1U);
  record::ElectricSet none;
  EXPECT_THROW((void)diagnose_circuit(deck_of(4), none, {1.0}), std::invalid_argument);
}

TEST(Warning, OfATestThatCanDamageACell) {
  TestMeter meter(1);
  record::CellElectrics row = measure(Bench{}, meter);
  row.test_V = 500;
  EXPECT_EQ(diagnosed(row).warnings.size(), 1U);
  row.test_V = 50;
  EXPECT_TRUE(diagnosed(row).warnings.empty());
}

TEST(CellDiagnosis, OfDigitalCellsIsNotTried) {
  deck::Deck deck = deck_of(4);
  deck.boxes.resize(1);
  deck.boxes[0].trims = "digital";
  record::ElectricSet set;
  set.stands = {{units::StandIndex{0}, {}}};
  const CircuitDiagnosis all = diagnose_circuit(deck, set, dead(4));
  EXPECT_TRUE(all.stands.empty());
  EXPECT_EQ(all.remarks.size(), 1U);
}

}  // namespace
}  // namespace weighwright::signal::tests
