/// Figures of the worked circuits of circuit_test.cpp (ngspice 39), taken from a deck; the rest by
/// hand.

#include "signal/budget.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace weighwright::signal {
namespace {

deck::Deck deck_of(int cells, double input_ohm, double output_ohm) {
  deck::Deck deck;
  deck.capacity_kg = 60000;
  deck.interval_kg = 20;
  deck.site.gravity_m_per_s2 = 9.80665;
  deck.stands.resize(static_cast<std::size_t>(cells));
  for (deck::Stand& stand : deck.stands) {
    stand.cell.capacity_kg = 25000;
    stand.cell.output_V_per_V = 2e-3;
    stand.cell.input_ohm = input_ohm;
    stand.cell.output_ohm = output_ohm;
  }
  return deck;
}

const std::vector<double> kSix = {13300, 13300, 25000, 25000, 13300, 13300};
const std::vector<double> kEight = {13300, 13300, 25000, 25000, 25000, 25000, 13300, 13300};

TEST(SignalBudget, OfACableOfFourWiresIsThatOfTheCircuit) {
  deck::Deck deck = deck_of(6, 775, 700);
  deck.home_cable = deck::Cable{30, 0.5e-6, 4};
  const SignalBudget budget = signal_budget(deck, kSix);
  EXPECT_FALSE(budget.sensed);
  EXPECT_NEAR(1e3 * budget.dead_V, 1.3781625, 5e-8);
  EXPECT_NEAR(budget.box_V, 9.822062, 5e-7);
  EXPECT_NEAR(budget.home_loss, 1.0 - 0.982206, 5e-7);
  // By hand: 775 / 6 ohm behind twice 1.17 ohm.
  EXPECT_NEAR(budget.load_ohm, 775.0 / 6.0 + 2.34, 2e-3);
  EXPECT_NEAR(budget.supply_A, 10.0 / (775.0 / 6.0 + 2.34), 2e-6);
  // Near 20 degC: -70 ppm/K, by alpha 2 r / (R + 2 r).
  EXPECT_NEAR(1e6 * *budget.per_K, -1e6 * 0.00393 * 2.34 / (775.0 / 6.0 + 2.34), 0.05);
  // One metre more: 39 mohm a core, by the same divider.
  const double before = 775.0 / 6.0 + 2.34;
  EXPECT_NEAR(1e6 * *budget.per_home_metre, 1e6 * (before / (before + 0.078) - 1.0), 0.1);
  EXPECT_FALSE(budget.per_cell_metre);
}

TEST(SignalBudget, OfSixWiresDoesNotKnowTheHomeCable) {
  deck::Deck deck = deck_of(6, 775, 700);
  deck.home_cable = deck::Cable{30, 0.5e-6, 6};
  const SignalBudget budget = signal_budget(deck, kSix);
  EXPECT_TRUE(budget.sensed);
  EXPECT_NEAR(1e3 * budget.dead_V_per_V, 0.14031295, 5e-9);
  EXPECT_NEAR(*budget.per_home_metre, 0.0, 1e-9);
  EXPECT_NEAR(*budget.per_K, 0.0, 1e-9);
}

// Every cell behind twice 0.39 ohm: R_in / (R_in + 2 r), -1005.4 ppm for 10 m (ngspice 39).
TEST(SignalBudget, OfCellCablesCountsEveryMetre) {
  deck::Deck deck = deck_of(8, 775, 700);
  deck.home_cable = deck::Cable{0, 0.5e-6, 6};
  deck.cell_cable = deck::Cable{10, 0.5e-6, 4};
  const SignalBudget budget = signal_budget(deck, kEight);
  EXPECT_NEAR(1e3 * budget.dead_V, 1.5606345, 5e-8);
  EXPECT_NEAR(1e6 * budget.cell_loss, 1005.4, 0.1);
  const double input = 775.0 + 0.78;
  EXPECT_NEAR(1e6 * *budget.per_cell_metre, 1e6 * (input / (input + 0.078) - 1.0), 0.05);
  // One corner alone: its supply as above, and its weight by Millman R / (R + 2 r) with 700.78 ohm.
  const double corner = input / (input + 0.078) * 700.78 / (700.78 + 0.078) - 1.0;
  EXPECT_NEAR(1e6 * *budget.per_corner_metre, 1e6 * corner, 0.5);
}

// By hand: 60 t on 4 cells of 25 t at 2 mV/V and 10 V: 20 mV x 60 / 100 = 12 mV; 20 kg: 4 uV.
TEST(SignalBudget, SharesMaxEquallyWhenNobodySaysHow) {
  deck::Deck deck = deck_of(4, 385, 350);
  deck.ranges = {{30000, 10}, {60000, 20}};
  deck.min_signal_V = 1e-6;
  const SignalBudget budget = signal_budget(deck, {0, 0, 0, 0});
  EXPECT_NEAR(1e3 * budget.full_V, 12.0, 1e-6);
  ASSERT_EQ(budget.ranges.size(), 2U);
  EXPECT_NEAR(1e6 * budget.ranges[0].interval_V, 2.0, 1e-6);
  EXPECT_NEAR(1e6 * budget.ranges[1].interval_V, 4.0, 1e-6);
  EXPECT_EQ(budget.least_interval_V, 1e-6);
  EXPECT_NEAR(budget.cells[2].full_share, 0.6, 1e-12);
  EXPECT_NEAR(1e3 * budget.cells[2].full_V, 12.0, 1e-9);
  EXPECT_NEAR(budget.cells[2].weight, 1.0, 1e-9);
}

TEST(SignalBudget, TakesTheLiveLoadAsItStands) {
  const deck::Deck deck = deck_of(4, 385, 350);
  const SignalBudget budget = signal_budget(deck, {0, 0, 0, 0}, {100e3, 80e3, 60e3, 40e3});
  EXPECT_NEAR(1e3 * budget.full_V, 5.710411, 5e-7);
  EXPECT_NEAR(budget.cells[0].full_share, 100e3 / (25000 * 9.80665), 1e-12);
}

TEST(SignalBudget, OfDigitalBoxesIsEmptyAndSaysWhy) {
  deck::Deck deck = deck_of(4, 0, 0);
  deck.boxes.resize(1);
  deck.boxes[0].trims = "digital";
  const SignalBudget budget = signal_budget(deck, {0, 0, 0, 0});
  EXPECT_TRUE(budget.digital);
  EXPECT_FALSE(budget.why_none.empty());
  EXPECT_TRUE(budget.ranges.empty());
}

TEST(SignalBudget, RefusesForcesThatDoNotFit) {
  const deck::Deck deck = deck_of(4, 385, 350);
  EXPECT_THROW((void)signal_budget(deck, {1, 2, 3}), std::invalid_argument);
  EXPECT_THROW((void)signal_budget(deck, {1, 2, 3, 4}, {1}), std::invalid_argument);
  EXPECT_THROW((void)signal_budget(deck, {1, 2, 3, std::nan("")}), std::invalid_argument);
}

}  // namespace
}  // namespace weighwright::signal
