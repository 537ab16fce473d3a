#include "span/theory.h"

#include <gtest/gtest.h>

#include "loads.h"

// outside check: theoretical setting, gravity | Millman by hand; WGS 84 normal gravity

namespace weighwright::span {
namespace {

deck::Deck eight_cells() {
  deck::Deck deck = tests::scale(60000.0, 20.0);
  deck.stands.resize(8);
  for (deck::Stand& stand : deck.stands) {
    stand.cell.capacity_kg = 25000.0;
    stand.cell.output_V_per_V = 2e-3;
    stand.cell.input_ohm = 775.0;
    stand.cell.output_ohm = 700.0;
  }
  deck.sections.resize(4);
  return deck;
}

// By hand (Millman, equal cells): V/U = S sum(F) / (N F_max). 15.6 t of dead load and 60 t on eight
// cells of 25 t: 2 mV/V * 15.6 / 200 = 0.156 mV/V and 0.6 mV/V; 10 nV/V a kilogram.
TEST(Theory, IsTheMeanOfTheCellsAtStandardGravity) {
  const deck::Deck deck = eight_cells();
  const Theory theory = theory_of(deck, Eigen::VectorXd::Constant(8, 15600.0 * 9.80665 / 8.0));
  EXPECT_NEAR(theory.dead_V_per_V, 0.156e-3, 0.156e-3 * 1e-6);
  EXPECT_NEAR(theory.per_kg_V_per_V, 1e-8, 1e-8 * 1e-6);
  EXPECT_NEAR(theory.span_V_per_V, 0.6e-3, 0.6e-3 * 1e-6);
  EXPECT_DOUBLE_EQ(theory.gravity_ratio, 1.0);
}

// A kilogram weighs g/9.80665 of what the cell's capacity counts by; at 9.8125 m/s2 (52.3 degrees
// north near sea level by the geodetic normal gravity formula, WGS 84: 9.812484) 0.06 % more.
TEST(Theory, TakesTheLocalGravity) {
  deck::Deck deck = eight_cells();
  deck.site.gravity_m_per_s2 = 9.812483710;
  const Theory theory = theory_of(deck, Eigen::VectorXd::Zero(8));
  EXPECT_NEAR(theory.per_kg_V_per_V, 1e-8 * 9.812483710 / 9.80665, 1e-14);
  EXPECT_NEAR(theory.gravity_ratio - 1.0, 5.949e-4, 1e-6);
}

// 30 m of 0.5 mm2 class 5 copper, four cores, six cells of 700 (775) ohm: the supply at the box is
// 9.822062 V of 10 (nodal analysis and ngspice agree); a four-wire indicator sees all of the loss.
TEST(Theory, TakesTheCableOff) {
  deck::Deck deck = eight_cells();
  deck.stands.resize(6);
  deck.sections.resize(3);
  deck.home_cable = deck::Cable{.length_m = 30.0, .area_m2 = 0.5e-6, .cores = 4};
  const Theory theory = theory_of(deck, Eigen::VectorXd::Zero(6));
  EXPECT_NEAR(theory.per_kg_V_per_V, 2e-3 / 150000.0 * 0.9822062, 1e-8 * 1e-4);
}

}  // namespace
}  // namespace weighwright::span
