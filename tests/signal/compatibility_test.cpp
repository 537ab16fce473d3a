/// Module compatibility on a constructed case (our own invention; figures by hand): Max 60 t, e 20
/// kg, DL 12 t, IZSR 10 t, NUD 30 t, -10 to 40 degC; cells C3 30 t, E_min 2 t, v_min 5 kg, 2 mV/V,
/// 350 ohm, p 0.7; indicator III, 6000 intervals, p 0.5, 12 V, 1 uV, 35 to 1100 ohm, 150 m/mm2;
/// cable 100 m of 0.75 mm2.

#include "signal/compatibility.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <stdexcept>

// outside check: module compatibility | R 76-1:2006 Annex F as quoted in OIML Bulletins 1995/04,
//  1996/03, 2009/02; a published 60 t case of 1980 and a constructed one
// outside check: edge cases 10 and 11: R 1, root of N for v_min, N for DR, first of several
//  intervals | OIML Bulletins 1995/04 and 1996/03 quoting R 76-1, 4.12

namespace weighwright::signal {
namespace {

deck::Cell cell_c3() {
  deck::Cell cell;
  cell.capacity_kg = 30000;
  cell.output_V_per_V = 2e-3;
  cell.input_ohm = 350;
  cell.output_ohm = 350;
  cell.min_interval_kg = 5;
  cell.max_intervals = 3000;
  cell.least_load_kg = 2000;
  cell.error_fraction = 0.7;
  cell.accuracy_class = "C";
  cell.temperature_low_degC = -10;
  cell.temperature_high_degC = 40;
  return cell;
}

deck::Indicator indicator_iii() {
  deck::Indicator indicator;
  indicator.sense_cores = 6;
  indicator.load_low_ohm = 35;
  indicator.load_high_ohm = 1100;
  indicator.dead_load_low_V = 0.0;
  indicator.max_intervals = 6000;
  indicator.accuracy_class = "III";
  indicator.error_fraction = 0.5;
  indicator.longest_cable_per_m = 150e6;
  indicator.temperature_low_degC = -10;
  indicator.temperature_high_degC = 40;
  return indicator;
}

deck::Deck truck_scale(int cells) {
  deck::Deck deck;
  deck.rulebook = "R76";
  deck.accuracy_class = "III";
  deck.capacity_kg = 60000;
  deck.interval_kg = 20;
  deck.site.temperature_low_degC = -10;
  deck.site.temperature_high_degC = 40;
  deck.stands.resize(static_cast<std::size_t>(cells));
  for (deck::Stand& stand : deck.stands) stand.cell = cell_c3();
  deck.indicator = indicator_iii();
  deck.receptor.dead_load_kg = 12000;
  deck.receptor.zero_range_kg = 10000;
  deck.receptor.uneven_kg = 30000;
  deck.receptor.tare_kg = 0;
  deck.receptor.error_fraction = 0.5;
  deck.excitation_V = 12;
  deck.excitation_given = true;
  deck.min_signal_V = 1e-6;
  deck.home_cable = deck::Cable{100, 0.75e-6, 6};
  return deck;
}

const Inequality& row(const Compatibility& found, const std::string& code) {
  const auto at = std::ranges::find(found.rows, code, &Inequality::code);
  if (at == found.rows.end()) throw std::runtime_error("no row " + code);
  return *at;
}

bool names(const std::vector<deck::Assumed>& assumed, const std::string& key) {
  return std::ranges::any_of(assumed, [&](const deck::Assumed& one) { return one.key == key; });
}

TEST(Compatibility, OfTheConstructedCaseIsAsByHand) {
  const struct {
    int cells;
    double needed_kg, interval_kg, dead_kg, dead_mV, interval_uV, load_ohm;
    Verdict least_load;
  } rows[] = {{4, 28000, 10, 3000, 2.4, 4.0, 87.5, Verdict::holds},
              {6, 18667, 8.165, 2000, 1.6, 2.667, 58.33, Verdict::holds},
              {8, 14000, 7.071, 1500, 1.2, 2.0, 43.75, Verdict::fails}};
  for (const auto& expected : rows) {
    SCOPED_TRACE(expected.cells);
    const Compatibility found = compatibility(truck_scale(expected.cells));
    EXPECT_NEAR(*row(found, "cell_capacity").right, expected.needed_kg, 0.5);
    EXPECT_NEAR(*row(found, "cell_interval").right, expected.interval_kg, 5e-4);
    EXPECT_NEAR(*row(found, "cell_least_load").left, expected.dead_kg, 1e-9);
    EXPECT_NEAR(1e3 * *row(found, "dead_signal").left, expected.dead_mV, 1e-9);
    EXPECT_NEAR(1e6 * *row(found, "interval_signal").left, expected.interval_uV, 5e-4);
    EXPECT_NEAR(*row(found, "supply_load_low").left, expected.load_ohm, 5e-3);
    EXPECT_NEAR(1e-6 * *row(found, "cable").left, 133.3, 0.05);  // m/mm2
    EXPECT_NEAR(*row(found, "error_sum").left, 0.99, 1e-12);
    EXPECT_EQ(row(found, "cell_least_load").verdict, expected.least_load);
    for (const Inequality& one : found.rows) {
      if (one.code == "cell_least_load") continue;
      EXPECT_EQ(one.verdict, Verdict::holds) << one.code;
    }
    EXPECT_TRUE(found.assumed.empty());
  }
  // Q = (60 + 12 + 10 + 30 + 0) / 60 t = 1.866667
  const Compatibility four = compatibility(truck_scale(4));
  EXPECT_NEAR(*row(four, "cell_capacity").right * 4 / 60000, 1.866667, 5e-7);
}

// v_min <= e / sqrt(N): e 20 kg, 4, 6, 8, 10 cells (OIML Bulletin 1995/04 and 1996/03 give the
// rule).
TEST(Compatibility, OfTheLeastIntervalGoesWithTheRootOfCells) {
  const struct {
    int cells;
    double limit_kg;
  } rows[] = {{4, 10}, {6, 8.165}, {8, 7.071}, {10, 6.325}};
  for (const auto& expected : rows) {
    deck::Deck deck = truck_scale(expected.cells);
    for (deck::Stand& stand : deck.stands) stand.cell.min_interval_kg = expected.limit_kg + 0.001;
    const Compatibility above = compatibility(deck);
    EXPECT_EQ(row(above, "cell_interval").verdict, Verdict::fails);
    EXPECT_LT(*row(above, "cell_interval").margin, 0.0);
    for (deck::Stand& stand : deck.stands) stand.cell.min_interval_kg = expected.limit_kg - 0.001;
    EXPECT_EQ(row(compatibility(deck), "cell_interval").verdict, Verdict::holds);
  }
}

// Zero returns of cells add (N), drifts with temperature do not (root of N); e1 is the first
// range's.
TEST(Compatibility, OfSeveralRangesTakesTheFirstInterval) {
  deck::Deck deck = truck_scale(4);
  deck.ranges = {{30000, 10}, {60000, 20}};
  for (deck::Stand& stand : deck.stands) stand.cell.dead_load_return_kg = 1.25;
  const Compatibility found = compatibility(deck);
  EXPECT_NEAR(*row(found, "dead_load_return").right, 0.5 * 10.0 / 4.0, 1e-12);
  EXPECT_EQ(row(found, "dead_load_return").verdict, Verdict::holds);  // equal
  EXPECT_NEAR(*row(found, "cell_interval").right, 5.0, 1e-12);
  EXPECT_NEAR(1e6 * *row(found, "interval_signal").left, 2.0, 1e-9);
  for (deck::Stand& stand : deck.stands) stand.cell.dead_load_return_kg = 1.3;
  EXPECT_EQ(row(compatibility(deck), "dead_load_return").verdict, Verdict::fails);
}

// DR at most 0.5 e1 / N of a multi-interval, e1 / N of a multiple range scale (OIML Bulletins
// 1995/04 and 1996/03).
TEST(Compatibility, OfSeveralWeighingRangesAllowsTwiceTheReturn) {
  deck::Deck deck = truck_scale(4);
  deck.ranges = {{30000, 10}, {60000, 20}};
  deck.ranges_kind = deck::RangesKind::ranges;
  for (deck::Stand& stand : deck.stands) stand.cell.dead_load_return_kg = 2.5;
  const Compatibility found = compatibility(deck);
  EXPECT_NEAR(*row(found, "dead_load_return").right, 10.0 / 4.0, 1e-12);
  EXPECT_EQ(row(found, "dead_load_return").verdict, Verdict::holds);
}

// Cells that carry the receptor: R = 1, every cell has its Nth of the load and no more. By hand:
// empty deck 12 t on four cells is 3 t each, Q Max / N = 28 t (OIML Bulletin 1995/04, 4.12.1). R
// taken the other way round, or forgotten in one row, would shift one of these against the others.
TEST(Compatibility, EdgeCase10TakesTheReceptorsForceAsTheCells) {
  const Compatibility found = compatibility(truck_scale(4));
  EXPECT_NEAR(*row(found, "cell_least_load").left * 4, 12000, 1e-9);
  EXPECT_NEAR(*row(found, "cell_capacity").right * 4, 112000, 1e-9);
  EXPECT_NEAR(*row(found, "interval_signal").left * 4 * 30000 / (2e-3 * 12), 20, 1e-9);
}

// v_min <= e / sqrt(N) with e 20 kg: 10, 8.165, 7.071 and 6.325 kg for 4, 6, 8, 10 cells; DR <= 0.5
// e1 / N: 2.5, 1.667, 1.25 and 1 kg (OIML Bulletins 1995/04, 1996/03: drifts are independent,
// returns add). Tolerance: half the last digit.
TEST(Compatibility, EdgeCase11TakesTheRootOfCellsForVMinAndTheirNumberForDr) {
  const struct {
    int cells;
    double interval_kg, return_kg;
  } rows[] = {{4, 10, 2.5}, {6, 8.165, 1.667}, {8, 7.071, 1.25}, {10, 6.325, 1.0}};
  for (const auto& expected : rows) {
    deck::Deck deck = truck_scale(expected.cells);
    EXPECT_NEAR(*row(compatibility(deck), "cell_interval").right, expected.interval_kg, 5e-4);
    deck.ranges = {{30000, 20}, {60000, 50}};  // e1 is 20 kg, whatever the second range has
    for (deck::Stand& stand : deck.stands) stand.cell.dead_load_return_kg = 1.5;
    const Compatibility found = compatibility(deck);
    EXPECT_NEAR(*row(found, "cell_interval").right, expected.interval_kg, 5e-4);
    EXPECT_NEAR(*row(found, "dead_load_return").right, expected.return_kg, 5e-4);
    EXPECT_EQ(row(found, "dead_load_return").verdict,
              expected.return_kg > 1.5 ? Verdict::holds : Verdict::fails);
    // uV per interval go with N too: C U_exc e / (E_max N)
    EXPECT_NEAR(1e6 * *row(found, "interval_signal").left, 16.0 / expected.cells, 1e-9);
  }
}

// A certificate that states Y and Z gives the same row: 30 t / 12000 = 2.5 kg, equal to e1 /
// sqrt(N) of four cells and e1 5 kg (OIML R 60:2000, 2.3.13; R 60:2021 Annex D prints 2.5).
TEST(Compatibility, EdgeCase11HoldsWhereBothSidesAreEqual) {
  deck::Deck deck = truck_scale(4);
  deck.interval_kg = 5;
  for (deck::Stand& stand : deck.stands) stand.cell.min_interval_kg = 30000.0 / 12000.0;
  EXPECT_EQ(row(compatibility(deck), "cell_interval").verdict, Verdict::holds);
  for (deck::Stand& stand : deck.stands) stand.cell.min_interval_kg = 2.51;
  EXPECT_EQ(row(compatibility(deck), "cell_interval").verdict, Verdict::fails);
}

TEST(Compatibility, NeverPassesWhatNobodyStated) {
  deck::Deck deck = truck_scale(4);
  for (deck::Stand& stand : deck.stands) {
    const deck::Cell full = stand.cell;
    stand.cell = deck::Cell{};
    stand.cell.capacity_kg = full.capacity_kg;
    stand.cell.output_V_per_V = full.output_V_per_V;
  }
  deck.indicator = deck::Indicator{};
  deck.receptor = deck::Receptor{};
  deck.excitation_given = false;
  deck.min_signal_V.reset();
  deck.home_cable.reset();
  deck.site = deck::Site{};
  const Compatibility found = compatibility(deck);
  EXPECT_FALSE(found.all_hold());
  EXPECT_FALSE(found.fails());
  for (const Inequality& one : found.rows) {
    EXPECT_EQ(one.verdict, Verdict::not_judged) << one.code;
    EXPECT_FALSE(one.missing.empty()) << one.code;
    EXPECT_FALSE(one.margin) << one.code;
  }
}

TEST(Compatibility, NamesWhatItTookFromRulesAndHabit) {
  deck::Deck deck = truck_scale(4);
  deck.receptor.uneven_kg.reset();
  deck.receptor.error_fraction.reset();
  deck.stands[1].cell.error_fraction.reset();
  const Compatibility found = compatibility(deck);
  EXPECT_TRUE(names(found.assumed, "receptor.uneven"));
  EXPECT_TRUE(names(found.assumed, "receptor.error_fraction"));
  EXPECT_TRUE(names(found.assumed, "cell.error_fraction"));
  EXPECT_NEAR(*row(found, "cell_capacity").right, 28000, 1e-9);  // half of Max is 30 t too
  EXPECT_NEAR(*row(found, "error_sum").left, 0.99, 1e-12);
}

TEST(Compatibility, NamesTheOneCellThatSaysNothing) {
  deck::Deck deck = truck_scale(4);
  deck.stands[3].cell.min_interval_kg.reset();
  const Compatibility found = compatibility(deck);
  const std::vector<std::string> expected = {"stand.2R.cell.min_interval"};
  EXPECT_EQ(row(found, "cell_interval").missing, expected);
}

TEST(Compatibility, FindsEveryPartThatDoesNotFit) {
  const struct {
    const char* code;
    void (*spoil)(deck::Deck&);
  } rows[] = {
      {"indicator_class", [](deck::Deck& d) { d.indicator.accuracy_class = "IIII"; }},
      {"cell_class", [](deck::Deck& d) { d.stands[2].cell.accuracy_class = "D"; }},
      {"cell_cold", [](deck::Deck& d) { d.site.temperature_low_degC = -20; }},
      {"cell_heat", [](deck::Deck& d) { d.stands[1].cell.temperature_high_degC = 30; }},
      {"indicator_heat", [](deck::Deck& d) { d.indicator.temperature_high_degC = 30; }},
      {"error_sum", [](deck::Deck& d) { d.indicator.error_fraction = 0.8; }},
      {"error_least", [](deck::Deck& d) { d.indicator.error_fraction = 0.2; }},
      {"indicator_intervals", [](deck::Deck& d) { d.indicator.max_intervals = 2000; }},
      {"cell_intervals", [](deck::Deck& d) { d.stands[0].cell.max_intervals = 2000; }},
      {"cell_capacity", [](deck::Deck& d) { d.receptor.dead_load_kg = 21000; }},
      {"dead_signal", [](deck::Deck& d) { d.indicator.dead_load_low_V = 3e-3; }},
      {"dead_signal_high", [](deck::Deck& d) { d.indicator.dead_load_high_V = 2e-3; }},
      {"interval_signal", [](deck::Deck& d) { d.min_signal_V = 5e-6; }},
      {"supply_load_low", [](deck::Deck& d) { d.indicator.load_low_ohm = 88; }},
      {"supply_load_high", [](deck::Deck& d) { d.indicator.load_high_ohm = 87; }},
      {"cable", [](deck::Deck& d) { d.home_cable->length_m = 120; }},
  };
  for (const auto& one : rows) {
    deck::Deck deck = truck_scale(4);
    one.spoil(deck);
    const Compatibility found = compatibility(deck);
    EXPECT_EQ(row(found, one.code).verdict, Verdict::fails) << one.code;
    EXPECT_TRUE(found.fails());
  }
}

TEST(Compatibility, OfFourWiresLeavesTheCableOut) {
  deck::Deck deck = truck_scale(4);
  deck.indicator.sense_cores = 4;
  const Compatibility found = compatibility(deck);
  EXPECT_TRUE(
      std::ranges::none_of(found.rows, [](const Inequality& one) { return one.code == "cable"; }));
  EXPECT_FALSE(found.remarks.empty());
}

// NIST Handbook 44, 2.20, S.5.4: v_min <= d / sqrt(N) (from memory, unverified).
TEST(Compatibility, OfH44TakesTheDisplaysDivision) {
  deck::Deck deck = truck_scale(4);
  deck.rulebook = "H44";
  deck.accuracy_class = "III L";
  deck.display_interval_kg = 9.0;
  const Compatibility found = compatibility(deck);
  EXPECT_NEAR(*row(found, "cell_interval").right, 4.5, 1e-12);
  EXPECT_EQ(row(found, "cell_interval").verdict, Verdict::fails);
  EXPECT_TRUE(row(found, "cell_interval").source_unverified);
  EXPECT_TRUE(std::ranges::none_of(
      found.rows, [](const Inequality& one) { return one.clause.starts_with("R 76"); }));
}

TEST(Compatibility, OfDigitalCellsLeavesMillivoltsOut) {
  deck::Deck deck = truck_scale(4);
  deck.boxes.resize(1);
  deck.boxes[0].trims = "digital";
  const Compatibility found = compatibility(deck);
  EXPECT_TRUE(std::ranges::none_of(
      found.rows, [](const Inequality& one) { return one.code == "dead_signal"; }));
}

}  // namespace
}  // namespace weighwright::signal
