// Laws of practice sites: repeatable, the same as Site and Corners where nothing is wrong, never
// broken by whatever is wrong together.
#include <gtest/gtest.h>

#include <cmath>

#include "rehearsal/practice.h"
#include "statics/decks.h"

namespace weighwright::rehearsal {
namespace {

using record::LoadPlace;
using units::StandIndex;

deck::Deck bridge(const std::string& trims) {
  deck::Deck deck = statics::tests::deck_of_closed_cells();
  deck.capacity_kg = 60000.0;
  deck.interval_kg = 20.0;
  for (deck::Stand& stand : deck.stands) {
    stand.cell.output_ohm = 700.0;
    stand.cell.input_ohm = 775.0;
  }
  deck.boxes = {{.stands = {}, .trims = trims}};
  return deck;
}

LoadPlace over(int stand) {
  LoadPlace place;
  place.kind = LoadPlace::Kind::stand;
  place.stand = StandIndex{stand};
  return place;
}

/// Everything that can be asked of a site, as one list of numbers.
std::vector<double> answers(PracticeSite& site) {
  std::vector<double> list;
  const auto take = [&](const record::ReadingSet& set) {
    for (const record::StandReading& reading : set.stands) {
      list.push_back(reading.value);
      list.push_back(reading.no_load.value_or(0.0));
    }
  };
  const auto take_load = [&](const record::LoadReading& reading) {
    list.push_back(reading.indication_kg);
    list.push_back(*reading.zero_before_kg);
    list.push_back(*reading.zero_after_kg);
  };
  take(site.read(true));
  take(site.read_at_box(false));
  for (const record::Gap& gap : site.gaps().gaps) list.push_back(gap.gap_mm);
  for (const auto& height : site.survey().height_mm) list.push_back(*height);
  for (const auto& [loaded, moved] : site.map().loaded_and_moved) {
    list.push_back(10.0 * loaded.value + moved.value);
  }
  record::StandTurn shim;
  shim.stand = StandIndex{2};
  shim.shim_mm = 0.5;
  site.turn({.stands = {shim}, .source = "test"});
  site.weather({.temp_degC = 31.0, .rain = true, .sun = false});
  site.wait(3.0);
  list.push_back(site.zero().zero_kg);
  list.push_back(site.rock().zero_kg);
  if (site.refuses_load(over(2), 10000.0).empty()) {
    list.push_back(site.pass(true, 20000.0).zero_kg);
    for (const record::LoadReading& one : site.corners(10000.0).readings) take_load(one);
    for (const record::LoadReading& one : site.steps(over(2), {5000.0, 10000.0, 15000.0}).readings)
      take_load(one);
    take_load(site.drive_on(over(2), 10000.0, false));
    for (const record::LoadReading& one : site.loads({5000.0, 20000.0}).readings) take_load(one);
  }
  if (!site.described().is_digital()) {
    const record::ElectricSet meter = site.meter({StandIndex{0}, StandIndex{2}}, true);
    for (const auto& [stand, e] : meter.stands) {
      list.push_back(*e.mV);
      list.push_back(*e.zero_mV);
      list.push_back(std::isfinite(*e.output_ohm) ? *e.output_ohm : -1.0);
      list.push_back(std::isfinite(*e.insulation_ohm) ? *e.insulation_ohm : -1.0);
    }
  }
  list.push_back(site.look("plate_moves", "2R").found ? 1.0 : 0.0);
  return list;
}

TEST(PracticeLaw, SameSeedSameAnswers) {
  for (const char* trims : {"signal", "digital"}) {
    PracticeSite one(bridge(trims), {}, 7);
    PracticeSite two(bridge(trims), {}, 7);
    PracticeSite other(bridge(trims), {}, 8);
    for (PracticeSite* site : {&one, &two, &other}) {
      site->leave_right();
      site->strike({.code = "end_packed", .places = {}, .size = {}});
      site->strike({.code = "stand_sunk", .places = {}, .size = {}});
    }
    const std::vector<double> first = answers(one);
    EXPECT_EQ(first, answers(two));
    EXPECT_NE(first, answers(other));
  }
}

TEST(PracticeLaw, WithoutFaultsReadsLikeSiteAndWeighsLikeCorners) {
  PracticeSpread spread;
  spread.corners.gain = 0.0;
  spread.corners.deck.noise_V = 0.0;
  spread.zero_temperature = spread.span_temperature = 0.0;
  for (std::uint64_t seed = 1; seed < 6; ++seed) {
    const deck::Deck deck = bridge("signal");
    PracticeSite practice(deck, spread, seed);
    Site site(deck, spread.corners.deck, seed);
    const record::ReadingSet ours = practice.read(true);
    const record::ReadingSet theirs = site.read(true);
    for (std::size_t i = 0; i < 8; ++i) {
      // Both rounded to 0.01 mV; a terminal's contact takes parts in 1e5.
      EXPECT_NEAR(ours.stands[i].value, theirs.stands[i].value, 0.0101);
      EXPECT_NEAR(*ours.stands[i].no_load, *theirs.stands[i].no_load, 0.0101);
    }
    const Corners corners(deck, spread.corners, seed);
    for (int i = 0; i < 8; ++i) {
      // 0.02 ohm of contacts in 775 ohm of supply: 0.3 kg.
      EXPECT_NEAR(practice.true_indication_kg(over(i), 1e4),
                  corners.true_indication_kg(over(i), 1e4), 0.5);
    }
  }
}

TEST(PracticeLaw, GroutMovesStandsAndEndsTheScrews) {
  PracticeSite site(bridge("signal"), {}, 3);
  EXPECT_FALSE(site.refuses_load(over(0), 1000.0).empty());
  const Eigen::VectorXd before = site.true_heights_m();
  site.grout();
  const Eigen::VectorXd moved = site.true_heights_m() - before;
  EXPECT_GE(moved.minCoeff(), 0.0);
  EXPECT_LE(moved.maxCoeff(), 1.6e-3);
  EXPECT_GT(moved.maxCoeff(), 1e-6);
  record::StandTurn turn;
  turn.stand = StandIndex{0};
  turn.turns = 0.5;
  EXPECT_FALSE(site.refuses({.stands = {turn}, .source = "test"}).empty());
  turn.turns.reset();
  turn.shim_mm = 0.5;
  EXPECT_TRUE(site.refuses({.stands = {turn}, .source = "test"}).empty());
  EXPECT_TRUE(site.refuses_load(over(0), 1000.0).empty());
}

// OIML R 60-1:2021, 5.6.1: at most p_LC v_min per 5 degC; three standard deviations here.
TEST(PracticeLaw, ZeroOfCellsDriftsWithinTheirClass) {
  double most = 0.0;
  for (std::uint64_t seed = 1; seed < 30; ++seed) {
    PracticeSite site(bridge("signal"), {}, seed);
    const Eigen::VectorXd cool = site.true_zero_V_per_V();
    site.weather({.temp_degC = 40.0, .rain = false, .sun = false});
    site.wait(48.0);
    const Eigen::VectorXd change_kg = (site.true_zero_V_per_V() - cool) / 2e-3 * 25000.0;
    most = std::max(most, change_kg.cwiseAbs().maxCoeff() / 4.0);  // a step of 5 degC
  }
  EXPECT_LT(most, 1.4 * 0.7 * 2.5);  // 232 draws: few beyond three standard deviations
  EXPECT_GT(most, 0.5 * 0.7 * 2.5);
}

TEST(PracticeLaw, MendingEverythingIsTheSiteWithoutFaults) {
  PracticeSite site(bridge("signal"), {}, 5);
  site.leave_right();
  const Eigen::VectorXd forces_N = site.true_forces_N();
  const double shows_kg = site.true_indication_kg(over(2), 1e4);
  for (const FaultRule& rule : fault_rules()) {
    if (rule.on == FaultOn::digital) continue;
    site.strike({.code = std::string(rule.code), .places = {}, .size = {}});
  }
  const PracticeSite mended = site.without_faults();
  EXPECT_TRUE(mended.faults().empty());
  EXPECT_LT((mended.true_forces_N() - forces_N).cwiseAbs().maxCoeff(), 1e-6);
  EXPECT_NEAR(mended.true_indication_kg(over(2), 1e4), shows_kg, 1e-6);
}

void every_pair(const std::string& trims) {
  const deck::Deck deck = bridge(trims);
  PracticeSite sound(deck, {}, 11);
  sound.leave_right();
  int pairs = 0;
  for (const FaultRule& one : fault_rules()) {
    for (const FaultRule& two : fault_rules()) {
      if (&two < &one) continue;
      const Fault first{.code = std::string(one.code), .places = {}, .size = {}};
      const Fault second{.code = std::string(two.code), .places = {}, .size = {}};
      if (!check_fault(deck, first).none() || !check_fault(deck, second).none()) continue;
      PracticeSite site = sound;
      site.strike(first);
      site.strike(second);
      for (const double value : answers(site)) {
        EXPECT_TRUE(std::isfinite(value)) << one.code << " " << two.code;
      }
      ++pairs;
    }
  }
  EXPECT_GT(pairs, trims == "digital" ? 120 : 280);
}

TEST(PracticeLaw, AnyTwoFaultsGoTogetherAnalog) {
  every_pair("signal");
}

TEST(PracticeLaw, AnyTwoFaultsGoTogetherDigital) {
  every_pair("digital");
}

TEST(PracticeLaw, FaultsThatDoNotFitAreToldWhy) {
  const deck::Deck deck = bridge("signal");
  const auto what = [&](const Fault& fault) { return check_fault(deck, fault).what; };
  EXPECT_NE(what({.code = "stand_snk", .places = {"2L"}, .size = {}}), "");
  EXPECT_EQ(check_fault(deck, {.code = "stand_snk", .places = {}, .size = {}}).expected,
            "did you mean stand_sunk?");
  EXPECT_NE(what({.code = "stand_sunk", .places = {"9L"}, .size = {}}), "");
  EXPECT_NE(what({.code = "stand_sunk", .places = {"2L"}, .size = -3.0}), "");
  EXPECT_NE(what({.code = "bearing_hangs", .places = {"bearing3R"}, .size = {}}), "");
  EXPECT_NE(what({.code = "swapped", .places = {"2L"}, .size = {}}), "");
  EXPECT_NE(what({.code = "swapped", .places = {"2L", "2L"}, .size = {}}), "");
  EXPECT_NE(what({.code = "cell_silent", .places = {"2L"}, .size = {}}), "");
  EXPECT_NE(what({.code = "box_mean", .places = {"2L"}, .size = {}}), "");
  EXPECT_EQ(what({.code = "deck_touches", .places = {"B left"}, .size = 1.0}), "");
  EXPECT_EQ(what({.code = "moisture", .places = {"box"}, .size = 5.0}), "");
}

}  // namespace
}  // namespace weighwright::rehearsal
