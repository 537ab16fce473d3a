#include "rehearsal/corners.h"

#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "statics/decks.h"

// outside check: the simulated site that weighs: trims in signal and supply leads, left and right
//  by the lever law, load over a stand, zero while a trim is turned | Millman, voltage divider and
//  Gerber statics by hand; a separate numpy model of the same grillage

namespace weighwright::rehearsal {
namespace {

using Eigen::VectorXd;

/// Truth and deck file agree in everything, and the display is quiet.
CornerSpread exact() {
  CornerSpread spread;
  spread.deck.twist_factor = spread.deck.bend_factor = spread.deck.stand_factor = 1.0;
  spread.deck.mass = spread.deck.side_m = spread.deck.height_m = spread.deck.place_m = 0.0;
  spread.gain = spread.resistance = spread.span = spread.load_place_m = 0.0;
  spread.repeatability_of_d = spread.zero_set_of_d = spread.zero_drift_of_d = 0.0;
  spread.trim_spread = spread.turn_error = 0.0;
  return spread;
}

/// The three-module reference deck with eight cells of 700 ohm.
deck::Deck bridge(const std::string& trims) {
  deck::Deck deck = statics::tests::deck_r3();
  deck.capacity_kg = 60000.0;
  deck.interval_kg = 20.0;
  for (deck::Stand& stand : deck.stands) {
    stand.cell.output_ohm = 700.0;
    stand.cell.input_ohm = 775.0;
  }
  deck.boxes = {{.stands = {}, .trims = trims}};
  return deck;
}

record::LoadPlace over(int stand) {
  record::LoadPlace place;
  place.kind = record::LoadPlace::Kind::stand;
  place.stand = units::StandIndex{stand};
  return place;
}

record::LoadPlace middle(int section) {
  record::LoadPlace place;
  place.kind = record::LoadPlace::Kind::section;
  place.section = units::SectionIndex{section};
  return place;
}

record::LoadPlace point(double x_m, double y_m) {
  record::LoadPlace place;
  place.kind = record::LoadPlace::Kind::point;
  place.x_m = x_m;
  place.y_m = y_m;
  return place;
}

record::TrimMove trim(int stand) {
  record::TrimMove move;
  move.place.stand = units::StandIndex{stand};
  return move;
}

record::TrimSet ohm(int stand, double ohm) {
  record::TrimMove move = trim(stand);
  move.ohm = ohm;
  return {.moves = {move}, .source = "test"};
}

record::TrimSet turns(int stand, double turns) {
  record::TrimMove move = trim(stand);
  move.turns = turns;
  return {.moves = {move}, .source = "test"};
}

TEST(WeighingSite, ShowsTheLoadWhereverItStandsWhenCellsAreAlike) {
  for (const char* trims : {"signal", "excitation", "digital"}) {
    const Corners site(bridge(trims), exact(), 1);
    // A bridge of equal arms in and out leaves parts in 1e5 between dead and full signal.
    for (int i = 0; i < 8; ++i) EXPECT_NEAR(site.true_indication_kg(over(i), 10000.0), 1e4, 0.3);
    EXPECT_NEAR(site.true_indication_kg(point(10.5, 0.7), 10000.0), 1e4, 0.3);
  }
}

// Lever law: on the centre line of a section, and of the whole deck, left and right take the same;
// a load on the middle of a module on four equal stands, a quarter each.
TEST(WeighingSite, MixesGainsByTheLeverLaw) {
  deck::Deck deck = statics::tests::deck_r1();
  deck.capacity_kg = 30000.0;
  deck.interval_kg = 10.0;
  deck.boxes = {{.stands = {}, .trims = "digital"}};
  CornerSpread spread = exact();
  spread.gain = 0.003;
  const Corners site(deck, spread, 4);
  const VectorXd g = site.true_gains();
  EXPECT_GT((g.array() - 1.0).abs().maxCoeff(), 1e-3);
  EXPECT_NEAR(site.true_indication_kg(middle(0), 8000.0), 4000.0 * (g(0) + g(1)), 1e-6);
  EXPECT_NEAR(site.true_indication_kg(middle(1), 8000.0), 4000.0 * (g(2) + g(3)), 1e-6);
  EXPECT_NEAR(site.true_indication_kg(point(3.5, 0.0), 8000.0), 2000.0 * g.sum(), 1e-6);
}

// Shares of a load over an end stand and over an inner one of this deck, from a numpy model of the
// same grillage, apart from this project: 0.99714 and 0.99378.
TEST(WeighingSite, LoadOverAStandIsNearlyAllOnIt) {
  const Corners site(bridge("signal"), exact(), 1);
  EXPECT_NEAR(site.true_share(over(0), 10000.0)(0), 0.99714, 2e-5);
  EXPECT_NEAR(site.true_share(over(3), 10000.0)(3), 0.99378, 2e-5);
  EXPECT_NEAR(site.true_share(over(3), 10000.0).sum(), 1.0, 1e-12);
}

// Millman's theorem by hand: eight sources of 700 ohm in parallel, 7 ohm added to one:
// f = 700/707 = 0.9900990; the parallel sum is 1 - (1 - f)/8 = 0.9987624 of what it was;
// that cell 0.9900990 / 0.9987624 = 0.9913259, every other one 1 / 0.9987624 = 1.0012392.
TEST(WeighingSite, TrimInASignalLeadTakesFromOneAndGivesToAll) {
  Corners site(bridge("signal"), exact(), 1);
  const VectorXd before = site.true_gains();
  site.set(ohm(2, 7.0));
  const VectorXd change = site.true_gains().cwiseQuotient(before);
  for (int i = 0; i < 8; ++i) EXPECT_NEAR(change(i), i == 2 ? 0.9913259 : 1.0012392, 1e-6);
}

// Voltage divider by hand: 775 / (775 + 7.75) = 0.9900990 for that cell, the others untouched.
TEST(WeighingSite, TrimInASupplyLeadTakesFromOneOnly) {
  Corners site(bridge("excitation"), exact(), 1);
  const VectorXd before = site.true_gains();
  site.set(ohm(5, 7.75));
  const VectorXd change = site.true_gains().cwiseQuotient(before);
  for (int i = 0; i < 8; ++i) EXPECT_NEAR(change(i), i == 5 ? 0.9900990 : 1.0, 1e-6);
}

TEST(WeighingSite, FactorsMultiplyDigitalCells) {
  Corners site(bridge("digital"), exact(), 1);
  record::TrimMove move = trim(6);
  move.factor = 1.0025;
  site.set({.moves = {move}, .source = "test"});
  for (int i = 0; i < 8; ++i) EXPECT_NEAR(site.true_gains()(i), i == 6 ? 1.0025 : 1.0, 1e-9);
}

TEST(WeighingSite, TurnsGoEitherWayAndStopAtTheEnds) {
  std::set<bool> ways;
  for (std::uint64_t seed = 0; seed < 12; ++seed) {
    CornerSpread spread = exact();
    spread.start_share = 0.5;
    Corners site(bridge("signal"), spread, seed);
    ways.insert(site.clockwise_raises());
    const double start = site.true_trim_ohm(units::StandIndex{0});
    EXPECT_GE(start, 0.0);
    EXPECT_LE(start, 10.0);  // half of 20 ohm
    const double before = site.true_gains()(0);
    site.set(turns(0, site.clockwise_raises() ? -1.0 : 1.0));
    // 15 to 25 turns for 20 ohm
    const double step = site.true_trim_ohm(units::StandIndex{0}) - start;
    EXPECT_GE(step, 20.0 / 25.0);
    EXPECT_LE(step, 20.0 / 15.0);
    EXPECT_LT(site.true_gains()(0), before);
    site.set(turns(0, site.clockwise_raises() ? 100.0 : -100.0));
    EXPECT_EQ(site.true_trim_ohm(units::StandIndex{0}), 0.0);
  }
  EXPECT_EQ(ways.size(), 2U);
}

TEST(WeighingSite, RefusesATrimThatIsNotThere) {
  Corners site(bridge("none"), exact(), 1);
  EXPECT_THROW(site.set(turns(0, 1.0)), std::invalid_argument);
  Corners cells(bridge("signal"), exact(), 1);
  EXPECT_THROW(cells.set(turns(8, 1.0)), std::invalid_argument);
}

TEST(WeighingSite, ReadsBackWhatItShowsWithSmallWeights) {
  CornerSpread spread = exact();
  spread.gain = 0.003;
  spread.zero_set_of_d = 0.25;
  Corners site(bridge("signal"), spread, 9);
  for (int i = 0; i < 8; ++i) {
    const double truth = site.true_indication_kg(over(i), 10000.0);
    site.put(over(i), 10000.0);
    const record::LoadReading display = site.look();
    const record::LoadReading fine = site.look(Look::fine);
    const record::LoadReading changed = site.look(Look::changeover);
    EXPECT_EQ(std::fmod(display.indication_kg, 20.0), 0.0);
    EXPECT_LE(std::abs(display.indication_kg - truth), 10.0 + 5.0);  // d/2, and zero within d/4
    EXPECT_LE(std::abs(fine.indication_kg - *fine.zero_before_kg - truth), 1.0 + 1.0);
    // P = I + d/2 - added (OIML R 76-1:2006, A.4.4.3); both figures to 0.1 d = 2 kg.
    const double before_rounding = changed.indication_kg + 10.0 - *changed.added_kg;
    EXPECT_LE(std::abs(before_rounding - *changed.zero_before_kg - truth), 2.0);
  }
}

// Sample standard deviation of n normal values: relative standard error 1/sqrt(2n), n = 400: 3.5 %.
TEST(WeighingSite, RepeatsAsItSays) {
  CornerSpread spread = exact();
  spread.repeatability_of_d = 3.0;
  Corners site(bridge("digital"), spread, 2);
  double square = 0.0;
  for (int i = 0; i < 400; ++i) {
    const double off = site.weigh(over(0), 10000.0, Look::fine).indication_kg - 10000.0;
    square += off * off;
  }
  EXPECT_NEAR(std::sqrt(square / 400.0), 60.0, 0.14 * 60.0);
}

// Over 300 sites of 8 cells: standard error of the sample's standard deviation 1.4 %.
TEST(WeighingSite, ScattersGainsAsItSays) {
  CornerSpread spread = exact();
  spread.gain = 0.003;
  double square = 0.0;
  for (std::uint64_t seed = 0; seed < 300; ++seed) {
    const Corners site(bridge("digital"), spread, seed);
    square += (site.true_gains().array() - 1.0).square().sum();
  }
  EXPECT_NEAR(std::sqrt(square / 2400.0), 0.003, 0.003 * 0.06);
}

TEST(WeighingSite, AnswersAlikeForTheSameSeed) {
  Corners one(bridge("signal"), {}, 7);
  Corners two(bridge("signal"), {}, 7);
  const Corners other(bridge("signal"), {}, 8);
  EXPECT_NE(one.true_gains()(0), other.true_gains()(0));
  for (int i = 0; i < 8; ++i) {
    EXPECT_EQ(one.weigh(over(i), 1e4, Look::fine).indication_kg,
              two.weigh(over(i), 1e4, Look::fine).indication_kg);
    for (Corners* site : {&one, &two}) site->set(turns(i, 1.0));
    EXPECT_EQ(one.true_gains()(i), two.true_gains()(i));
  }
}

// A trim that is turned while the load stands takes the same part of the dead load with it: by hand
// 0.99 of (10 000 kg + what the stand carries of the deck) less that dead load.
TEST(WeighingSite, KeepsItsZeroWhileATrimIsTurned) {
  Corners site(bridge("digital"), exact(), 1);
  site.put(over(0), 10000.0);
  record::TrimMove move = trim(0);
  move.factor = 0.99;
  site.set({.moves = {move}, .source = "test"});
  // Dead load of an end stand 13 319.48 N (R1 = W L / 2(L-a); L = 7, a = 0.3, W = 5200 kg): 1358.21
  // kg. 0.99714 of the load are on that stand.
  EXPECT_NEAR(site.look(Look::fine).indication_kg, 1e4 - 0.01 * (9971.4 + 1358.21), 1.1);
  EXPECT_NEAR(site.weigh(over(0), 10000.0, Look::fine).indication_kg, 1e4 - 99.7, 1.1);
}

}  // namespace
}  // namespace weighwright::rehearsal
