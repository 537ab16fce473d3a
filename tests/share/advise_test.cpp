/// Advice on decks whose truth is known, applied and checked by contact statics.

#include "share/advise.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <random>

#include "rehearsal/site.h"
#include "share/belief.h"
#include "share/evidence.h"
#include "share/readings.h"
#include "share/reduced.h"
#include "statics/random_decks.h"

// outside check: turns of one module, of the three-module deck | closed form q = H / (1/k_t +
//  4/k_s); the stands to touch by hand (clustering of section rolls)
// outside check: an open bearing is believed open, and its gap mended | readings and gap of an
//  independent active-set solution; end pair (R1 ∓ J)/2 by hand
// outside check: what is believed, as a whole | ranks of the truth among the samples are uniform
//  over simulated sites (Cook, Gelman & Rubin, *J. Comp. Graph. Stat.* 15, 2006)

namespace weighwright::share {
namespace {

using namespace tests;
using record::Measurement;
using record::ReadingSet;
using statics::tests::deck_r1;
using statics::tests::deck_r2;
using statics::tests::deck_r3;

Advice advice_on(const deck::Deck& deck,
                 const statics::Model& model,
                 const std::vector<Measurement>& events,
                 int particles = 400) {
  Effort effort;
  effort.particles = particles;
  effort.map_proven = true;
  const Advised advised = advise(deck, model, events, effort);
  for (const units::Diagnostic& fault : advised.faults) ADD_FAILURE() << fault.what;
  return advised.advice.value();
}

/// Stiffness and meter are as good as known, so that hand results can be asked for.
deck::Deck known(deck::Deck deck) {
  deck = metered(std::move(deck));
  for (deck::Module& module : deck.modules) {
    module.twisting_spread = 1.001;
    module.mass_given = module.centre_given = true;
  }
  deck.sharing.noise_V = 1e-6;
  return deck;
}

ReadingSet fine(ReadingSet set) {
  for (record::StandReading& reading : set.stands) reading.resolution = 1e-4;
  return set;
}

std::vector<double> moved(std::vector<double> heights_mm, const Advice& advice) {
  for (const Move& move : advice.moves) heights_mm[at(move.stand.value)] += move.raise_m * 1e3;
  return heights_mm;
}

double most_difference_mV(const Eigen::VectorXd& force_N) {
  double most = 0.0;
  for (Eigen::Index i = 0; i < force_N.size(); i += 2) {
    most = std::max(most, std::abs(force_N(i) - force_N(i + 1)) * kMvPerN);
  }
  return most;
}

// ---- one module: closed form q = sum(s h) / (1/k_t + 4/k_s), s = (+, -, -, +); no twist force is
// left when the sum of s h is nought.

TEST(AdviceForOneModule, TurnsWhatTheClosedFormDemands) {
  deck::Deck deck = known(deck_r1());
  deck.sharing.tolerance_V = 0.03e-3;
  deck.sharing.tolerance_share.reset();
  deck.sharing.turn_error = 0.01;
  const statics::Model model = built(deck);
  const std::array<double, 4> sign = {1.0, -1.0, -1.0, 1.0};
  for (const std::vector<double>& heights :
       {std::vector<double>{-6.0, 0, 0, 0}, {0, 0, 3.4, 0}, {1.0, 2.0, 1.5, -0.9}}) {
    const Eigen::VectorXd force = forces_at_mm(model, heights);
    double twist_mm = 0.0;
    for (int i = 0; i < 4; ++i) twist_mm += sign[at(i)] * heights[at(i)];
    // The same number out of the forces by hand: k_t = 0.49641381 kN/mm, k_s = 200 kN/mm.
    const double q_kN = (force(0) - force(1)) / 2.0 * 1e-3;
    ASSERT_NEAR(q_kN * (1.0 / 0.49641381 + 4.0 / 200.0), twist_mm, 1e-5 * std::abs(twist_mm));
    const Advice advice = advice_on(deck, model, {fine(readings_of(force))});
    ASSERT_EQ(advice.outcome, Outcome::turn);
    EXPECT_EQ(advice.moves.size(), 1U);
    double turned_mm = 0.0;
    for (const Move& move : advice.moves) {
      turned_mm += sign[at(move.stand.value)] * move.raise_m * 1e3;
    }
    EXPECT_NEAR(turned_mm, -twist_mm, 0.5 * 2.5 / 8.0 + 0.02);
    EXPECT_LE(most_difference_mV(forces_at_mm(model, moved(heights, advice))), 0.03);
    EXPECT_GT(*advice.probability_done, 0.9);
  }
}

// Closed form of the ladder frame: k_t = 0.49641381 kN/mm (end crossbeams bend, girders twist).
TEST(AdviceForOneModule, TellsItsTwistStiffnessAndHowFarACornerIsOutOfPlane) {
  const deck::Deck deck = known(deck_r1());
  const statics::Model model = built(deck);
  const Advice advice =
      advice_on(deck, model, {fine(readings_of(forces_at_mm(model, {-6.0, 0, 0, 0})))});
  ASSERT_EQ(advice.bodies.size(), 1U);
  EXPECT_NEAR(advice.bodies[0].twist_stiffness_N_per_m, 0.49641381e6, 0.002 * 0.496e6);
  EXPECT_NEAR(advice.bodies[0].twist_mismatch_m, -6e-3, 0.1e-3);
}

// Three such modules on the joint lines: H_i = (h_iL - h_iR) - (h_i+1,L - h_i+1,R) by the closed
// form of the hinged chain; every module has the stiffness of the ladder.
TEST(AdviceForAChain, TellsTwistStiffnessAndMismatchOfEveryModule) {
  const deck::Deck deck = known(deck_r2());
  const statics::Model model = built(deck);
  const std::vector<double> h = {1.0, 0, 0, 3.0, 0, 2.0, -1.0, 0};
  const Advice advice = advice_on(deck, model, {fine(readings_of(forces_at_mm(model, h)))});
  ASSERT_EQ(advice.bodies.size(), 3U);
  for (int i = 0; i < 3; ++i) {
    const double mismatch_mm =
        (h[at(2 * i)] - h[at(2 * i + 1)]) - (h[at(2 * i + 2)] - h[at(2 * i + 3)]);
    EXPECT_NEAR(advice.bodies[at(i)].twist_stiffness_N_per_m, 0.49641381e6, 0.002 * 0.496e6);
    EXPECT_NEAR(advice.bodies[at(i)].twist_mismatch_m * 1e3, mismatch_mm, 0.15);
  }
}

// ---- fewest stands: sections 1 and 4 agree, so 2L by -13 and 3L by -12 mm give the dead load.

TEST(AdviceForAChain, TouchesTwoStandsWhereTwoSectionsAgree) {
  deck::Deck deck = known(deck_r3());
  const statics::Model model = built(deck);
  const std::vector<double> heights = {-4, 3, 2, -4, 5, 0, -3, 4};
  const Advice advice = advice_on(deck, model, {fine(readings_of(forces_at_mm(model, heights)))});
  ASSERT_EQ(advice.outcome, Outcome::turn);
  EXPECT_LE(advice.moves.size(), 2U);
  const Eigen::VectorXd then = forces_at_mm(model, moved(heights, advice));
  EXPECT_LE(std::abs(then(0) - then(1)) * kMvPerN, 0.2 * 1.0866);  // 20 % of the pair's mean
  EXPECT_LE(std::abs(then(6) - then(7)) * kMvPerN, 0.2 * 1.0866);
  EXPECT_LE(std::abs(then(2) - then(3)) * kMvPerN, 0.2 * 2.0334);
  EXPECT_LE(std::abs(then(4) - then(5)) * kMvPerN, 0.2 * 2.0334);
}

// ---- a bearing hangs: the stiff chain with 1L 5 mm low stands module A on three points.
// Section 1 by statics (R1 -+ J)/2 = 1141.67 and 25 497.29 N; the others from contact statics.

class AdviceWhereABearingHangs : public ::testing::Test {
 protected:
  deck::Deck deck_ = known(deck_r3(200e6));
  statics::Model model_ = built(deck_);
  Eigen::VectorXd force_N_ = (Eigen::VectorXd(8) << 1141.67,
                              25497.29,
                              37058.05,
                              12794.86,
                              24972.06,
                              24880.86,
                              13320.10,
                              13318.86)
                                 .finished();
};

TEST_F(AdviceWhereABearingHangs, AsksForItsGap) {
  const Advice advice = advice_on(deck_, model_, {readings_of(force_N_)});
  ASSERT_FALSE(advice.open_bearings.empty());
  EXPECT_EQ(advice.open_bearings[0].joint, 0);
  EXPECT_EQ(advice.open_bearings[0].side, units::Side::right);
  EXPECT_GT(advice.open_bearings[0].chance, 0.9);
  EXPECT_FALSE(advice.in_tolerance);
  const bool asked = std::any_of(advice.asks.begin(), advice.asks.end(), [](const Ask& ask) {
    return ask.what == Ask::What::gap && ask.place.is_bearing && ask.place.joint == 0 &&
           ask.place.side == units::Side::right;
  });
  EXPECT_TRUE(asked);
}

TEST_F(AdviceWhereABearingHangs, LandsItOnceTheGapIsKnown) {
  record::GapSet gaps;
  record::Gap gap;
  gap.place.is_bearing = true;
  gap.place.side = units::Side::right;
  gap.gap_mm = 2.006;
  gaps.gaps.push_back(gap);
  const Advice advice = advice_on(deck_, model_, {readings_of(force_N_), gaps});
  ASSERT_EQ(advice.outcome, Outcome::turn);
  EXPECT_TRUE(advice.asks.empty());
  std::vector<double> heights(8, 0.0);
  heights[0] = -5.0;
  EXPECT_LE(advice.moves.size(), 2U);
  // Raising 1L and lowering 1R do the same, and so does the opposite at the next section in part.
  double twist_mm = 0.0;
  const std::array<double, 8> sign = {1, -1, -1, 1, 0, 0, 0, 0};
  for (const Move& move : advice.moves) {
    twist_mm += sign[at(move.stand.value)] * move.raise_m * 1e3;
  }
  EXPECT_NEAR(twist_mm, 5.0, 0.7);
  const Eigen::VectorXd then = forces_at_mm(model_, moved(heights, advice));
  EXPECT_LE(most_difference_mV(then), 0.42);
  EXPECT_LE(std::abs(then(0) - then(1)) * kMvPerN, 0.2 * 1.0866);
}

// ---- nothing to do, or nothing to do it with

TEST(AdviceInTolerance, TurnsNothing) {
  const deck::Deck deck = metered(deck_r3(94e6));
  const statics::Model model = built(deck);
  const Advice advice =
      advice_on(deck, model, {readings_mV({1.10, 1.08, 2.02, 2.04, 2.05, 2.01, 1.08, 1.10})});
  EXPECT_EQ(advice.outcome, Outcome::in_tolerance);
  EXPECT_TRUE(advice.in_tolerance);
  EXPECT_TRUE(advice.moves.empty());
  EXPECT_FALSE(advice.probability_done);
  EXPECT_TRUE(advice.cannot_fix.empty());
}

TEST(AdviceWithoutScrews, SaysThatNothingCanBeAdjusted) {
  deck::Deck deck = metered(deck_r1());
  for (deck::Stand& stand : deck.stands) stand.adjust = deck::Adjust::none;
  const statics::Model model = built(deck);
  const Advice advice = advice_on(deck, model, {readings_of(forces_at_mm(model, {-6.0, 0, 0, 0}))});
  EXPECT_EQ(advice.outcome, Outcome::cannot_fix);
  EXPECT_TRUE(advice.moves.empty());
  ASSERT_FALSE(advice.cannot_fix.empty());
  EXPECT_EQ(advice.cannot_fix[0].detail, CannotFix::Detail::not_adjustable);
}

// ---- the gap for grout under the plates

class AdviceWithAGroutWindow : public ::testing::Test {
 protected:
  /// One module, 1L set down 6 mm too low: by hand some 6 mm of twist are to be taken out.
  deck::Deck deck_with(double gap_m, double least_m, double most_m) {
    deck::Deck deck = known(deck_r1());
    for (deck::Stand& stand : deck.stands) {
      stand.grout_m = gap_m;
      stand.grout_min_m = least_m;
      stand.grout_max_m = most_m;
    }
    return deck;
  }
  Advice advise_low(const deck::Deck& deck, std::vector<Measurement> before = {}) {
    const statics::Model model = built(deck);
    before.emplace_back(fine(readings_of(forces_at_mm(model, {-6.0, 0, 0, 0}))));
    return advice_on(deck, model, before);
  }
};

TEST_F(AdviceWithAGroutWindow, MovesNoStandOutOfIt) {
  const Advice free = advise_low(known(deck_r1()));
  double most_m = 0.0;
  for (const Move& move : free.moves) {
    most_m = std::max(most_m, std::abs(move.raise_m));
    EXPECT_FALSE(move.grout_m);
  }
  ASSERT_GT(most_m, 2.5e-3);  // else the window below would bound nothing
  const Advice bounded = advise_low(deck_with(30e-3, 28e-3, 32e-3));
  ASSERT_FALSE(bounded.moves.empty());
  for (const Move& move : bounded.moves) {
    ASSERT_TRUE(move.grout_m);
    EXPECT_NEAR(*move.grout_m, 30e-3 + move.raise_m, 1e-12);
    EXPECT_GE(*move.grout_m, 28e-3 - 1e-9);
    EXPECT_LE(*move.grout_m, 32e-3 + 1e-9);
  }
}

// What was raised since the first reading is part of the gap: 1 turn of M20 is 2.5 mm.
TEST_F(AdviceWithAGroutWindow, CountsTheGapFromTheFirstReadingOn) {
  const deck::Deck deck = deck_with(30e-3, 26e-3, 33e-3);
  const statics::Model model = built(deck);
  const Advice advice =
      advice_on(deck, model,
                {fine(readings_of(forces_at_mm(model, {-8.5, 0, 0, 0}))), turns_of({{0, 1.0}}),
                 fine(readings_of(forces_at_mm(model, {-6.0, 0, 0, 0})))});
  ASSERT_FALSE(advice.moves.empty());
  for (const Move& move : advice.moves) {
    const double used_m = move.stand.value == 0 ? 2.5e-3 : 0.0;
    ASSERT_TRUE(move.grout_m);
    EXPECT_NEAR(*move.grout_m, 30e-3 + used_m + move.raise_m, 1e-12);
    EXPECT_LE(*move.grout_m, 33e-3 + 1e-9);
    EXPECT_GE(*move.grout_m, 26e-3 - 1e-9);
  }
}

TEST_F(AdviceWithAGroutWindow, ThatLeavesNoPlanSaysWhichStandAndHowFar) {
  const Advice advice = advise_low(deck_with(30e-3, 29.9e-3, 30.1e-3));
  EXPECT_EQ(advice.outcome, Outcome::cannot_fix);
  EXPECT_TRUE(advice.moves.empty());
  ASSERT_FALSE(advice.cannot_fix.empty());
  const CannotFix& reason = advice.cannot_fix[0];
  EXPECT_EQ(reason.detail, CannotFix::Detail::grout);
  ASSERT_TRUE(reason.stand);
  EXPECT_GT(std::abs(reason.wanted_m), 0.3e-3);
  EXPECT_NEAR(std::abs(reason.left_m), 0.1e-3, 1e-9);
}

TEST_F(AdviceWithAGroutWindow, TellsAStandThatStandsOutsideOfIt) {
  deck::Deck deck = deck_with(30e-3, 20e-3, 50e-3);
  deck.stands[2].grout_m = 15e-3;
  const Advice advice = advise_low(deck);
  ASSERT_EQ(advice.grout_out.size(), 1U);
  EXPECT_EQ(advice.grout_out[0].stand.value, 2);
  EXPECT_DOUBLE_EQ(advice.grout_out[0].gap_m, 15e-3);
}

// ---- which reading belongs to which stand is not proven

TEST(AdviceWithoutAMap, MovesOneStandAtATimeAndAsksForTheMap) {
  const deck::Deck deck = known(deck_r3(94e6));
  const statics::Model model = built(deck);
  const std::vector<Measurement> events = {
      fine(readings_of(forces_at_mm(model, {-4.0, 0, 5.0, 0, 0, -3.0, 4.0, 0})))};
  const Advice proven = advice_on(deck, model, events);
  ASSERT_GT(proven.moves.size(), 1U);
  const Advised unproven = advise(deck, model, events, {});
  ASSERT_TRUE(unproven.advice);
  EXPECT_LE(unproven.advice->moves.size(), 1U);
  EXPECT_TRUE(unproven.advice->one_at_a_time);
  EXPECT_TRUE(unproven.advice->gentler.empty());
  EXPECT_TRUE(std::any_of(unproven.advice->asks.begin(), unproven.advice->asks.end(),
                          [](const Ask& ask) { return ask.what == Ask::What::map; }));
}

// ---- shims

/// Every sum of at most three shims on hand, in micrometres.
std::vector<long> shim_sums(const std::vector<double>& shims_m) {
  std::vector<long> um = {0};
  for (const double shim : shims_m) um.push_back(std::lround(shim * 1e6));
  std::vector<long> sums;
  for (const long a : um) {
    for (const long b : um) {
      for (const long c : um) sums.push_back(a + b + c);
    }
  }
  return sums;
}

TEST(AdviceWithShims, AddsOnlyWhatIsOnHand) {
  int told = 0;
  for (const std::vector<double>& shims :
       {std::vector<double>{0.5e-3, 1e-3, 3e-3}, std::vector<double>{2e-3, 3e-3}}) {
    deck::Deck deck = known(deck_r1());
    for (deck::Stand& stand : deck.stands) {
      stand.adjust = deck::Adjust::shims;
      stand.shims_m = shims;
    }
    const std::vector<long> sums = shim_sums(shims);
    const statics::Model model = built(deck);
    for (double low_mm = 2.5; low_mm < 9.0; low_mm += 0.75) {
      SCOPED_TRACE(low_mm);
      const Advice advice =
          advice_on(deck, model, {fine(readings_of(forces_at_mm(model, {-low_mm, 0, 0, 0})))}, 100);
      for (const Move& move : advice.moves) {
        ++told;
        EXPECT_TRUE(move.shim);
        EXPECT_TRUE(move.jack_first);
        EXPECT_GT(move.raise_m, 0.0);  // nothing to take out yet
        EXPECT_NE(std::find(sums.begin(), sums.end(), std::lround(move.raise_m * 1e6)), sums.end());
        double stack_m = 0.0;
        for (const double shim : move.shims_m) {
          EXPECT_NE(std::find(shims.begin(), shims.end(), shim), shims.end());
          stack_m += shim;
        }
        EXPECT_NEAR(stack_m, move.raise_m, 1e-9);
        EXPECT_LE(move.shims_m.size(), 3U);
      }
    }
  }
  EXPECT_GE(told, 10);
}

// ---- travel

TEST(AdviceOverSeveralLowerings, StaysWithinTheTravelOfEveryScrew) {
  deck::Deck deck = metered(deck_r3(94e6));
  for (deck::Stand& stand : deck.stands) {
    stand.travel_down_m = -1.5e-3;
    stand.travel_up_m = 3e-3;
  }
  const statics::Model model = built(deck);
  int at_limit = 0;
  for (std::uint64_t seed = 1; seed <= 6; ++seed) {
    rehearsal::Site site(deck, {}, seed);
    std::vector<Measurement> events;
    std::array<double, 8> turned{};
    for (int lowering = 0; lowering < 4; ++lowering) {
      events.emplace_back(site.read(true));
      const Advice advice = advice_on(deck, model, events, 100);
      if (advice.moves.empty()) break;
      record::TurnSet turns;
      for (const Move& move : advice.moves) {
        record::StandTurn turn;
        turn.stand = move.stand;
        turn.turns = move.turns;
        turns.stands.push_back(turn);
        turned[at(move.stand.value)] += move.turns * 2.5e-3;
      }
      for (const double sum : turned) {
        EXPECT_GE(sum, -1.5e-3 - 1e-9);
        EXPECT_LE(sum, 3e-3 + 1e-9);
        at_limit += sum > 2.6e-3 || sum < -1.1e-3 ? 1 : 0;
      }
      site.turn(turns.stands);
      events.emplace_back(turns);
    }
  }
  EXPECT_GT(at_limit, 0);  // the limits did bind
}

// ---- the same question, the same answer

void expect_same(const Advice& a, const Advice& b) {
  ASSERT_EQ(a.moves.size(), b.moves.size());
  for (std::size_t i = 0; i < a.moves.size(); ++i) {
    EXPECT_EQ(a.moves[i].stand, b.moves[i].stand);
    EXPECT_EQ(a.moves[i].turns, b.moves[i].turns);
  }
  EXPECT_EQ(a.probability_done, b.probability_done);
  ASSERT_EQ(a.then.size(), b.then.size());
  for (std::size_t i = 0; i < a.then.size(); ++i) EXPECT_EQ(a.then[i].signal_V, b.then[i].signal_V);
}

TEST(Advice, IsTheSameForTheSameEvents) {
  const deck::Deck deck = metered(deck_r3(94e6));
  const statics::Model model = built(deck);
  rehearsal::Site site(deck, {}, 4);
  const std::vector<Measurement> events = {site.read(true), turns_of({{0, 0.5}}), site.read(true)};
  expect_same(advice_on(deck, model, events), advice_on(deck, model, events));
}

TEST(Advice, TakesTheSameReadingTwiceAsARepeat) {
  const deck::Deck deck = metered(deck_r3(94e6));
  const statics::Model model = built(deck);
  const ReadingSet set = readings_of(forces_at_mm(model, {-3, 0, 1, 0, 0, 2, 0, 0}));
  const Advice once = advice_on(deck, model, {set});
  const Advice twice = advice_on(deck, model, {set, set});
  EXPECT_EQ(once.readings, 1);
  EXPECT_EQ(twice.readings, 2);
  ASSERT_EQ(once.pairs.size(), twice.pairs.size());
  for (std::size_t k = 0; k < once.pairs.size(); ++k) {
    EXPECT_NEAR(once.pairs[k].difference_V, twice.pairs[k].difference_V, 1e-15);
  }
  EXPECT_NEAR(twice.now[0].u_force_N, once.now[0].u_force_N / std::sqrt(2.0), 1e-6);
}

TEST(Advice, ShowsTheMeanOfRepeats) {
  const deck::Deck deck = metered(deck_r1());
  const statics::Model model = built(deck);
  const Advice advice = advice_on(
      deck, model, {readings_mV({1.02, 1.06, 1.06, 1.02}), readings_mV({1.04, 1.04, 1.04, 1.04})});
  EXPECT_NEAR(advice.now[0].signal_V * 1e3, 1.03, 1e-9);
  EXPECT_NEAR(advice.pairs[0].difference_V * 1e3, -0.02, 1e-9);
}

// Left and right have no other meaning than their names.
TEST(Advice, IsMirroredWithTheReadings) {
  const deck::Deck deck = metered(deck_r3(94e6));
  const statics::Model model = built(deck);
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    rehearsal::Site site(deck, {}, seed);
    const ReadingSet set = site.read(true);
    ReadingSet mirrored = set;
    for (std::size_t i = 0; i < set.stands.size(); ++i) {
      mirrored.stands[i].value = set.stands[i ^ 1U].value;
      mirrored.stands[i].no_load = set.stands[i ^ 1U].no_load;
    }
    const Advice a = advice_on(deck, model, {set}, 60);
    const Advice b = advice_on(deck, model, {mirrored}, 60);
    ASSERT_EQ(a.pairs.size(), b.pairs.size());
    for (std::size_t k = 0; k < a.pairs.size(); ++k) {
      EXPECT_NEAR(a.pairs[k].difference_V, -b.pairs[k].difference_V, 1e-15);
      EXPECT_EQ(a.pairs[k].within, b.pairs[k].within);
    }
    EXPECT_NEAR(a.parity.residual_N, b.parity.residual_N, 1e-6);
    EXPECT_NEAR(a.roll.residual_N, -b.roll.residual_N, 1e-6);
    EXPECT_EQ(a.parity.verdict, b.parity.verdict);
    EXPECT_EQ(a.roll.verdict, b.roll.verdict);
    EXPECT_EQ(a.outcome, b.outcome);
    EXPECT_EQ(a.cannot_fix.size(), b.cannot_fix.size());
  }
}

// ---- whatever is read

void expect_sane(const deck::Deck& deck, const Advice& advice) {
  const int stands = deck.stand_count();
  for (const std::optional<double>& chance :
       {advice.probability_done, advice.probability_gentler}) {
    if (!chance) continue;
    EXPECT_TRUE(*chance >= 0.0 && *chance <= 1.0) << *chance;
  }
  EXPECT_EQ(advice.probability_done.has_value(), !advice.moves.empty());
  EXPECT_EQ(advice.now.size(), at(stands));
  EXPECT_EQ(advice.then.size(), advice.moves.empty() ? 0U : at(stands));
  for (const Then& then : advice.then) {
    EXPECT_TRUE(std::isfinite(then.signal_V));
    EXPECT_TRUE(std::isfinite(then.u_signal_V) && then.u_signal_V >= 0.0);
  }
  for (const StandNow& now : advice.now) {
    EXPECT_TRUE(std::isfinite(now.signal_V) && std::isfinite(now.force_N));
    EXPECT_TRUE(now.chance_free >= 0.0 && now.chance_free <= 1.0 + 1e-12);
  }
  for (const OpenBelief& open : advice.open_bearings) {
    EXPECT_TRUE(open.chance >= 0.0 && open.chance <= 1.0 + 1e-12);
    EXPECT_TRUE(std::isfinite(open.gap_m) && open.gap_m >= 0.0);
  }
  for (const Ask& ask : advice.asks) EXPECT_LE(ask.gap_low_m, ask.gap_high_m);
  for (const CannotFix& fault : advice.cannot_fix) {
    EXPECT_TRUE(std::isfinite(fault.amount_N) && std::isfinite(fault.z));
  }
  for (const std::vector<Move>* moves : {&advice.moves, &advice.gentler}) {
    std::vector<int> touched(at(stands), 0);
    for (const Move& move : *moves) {
      const deck::Stand& stand = deck.stands[at(move.stand.value)];
      const double divisions = move.turns * stand.division;
      EXPECT_NE(move.turns, 0.0);
      EXPECT_NEAR(divisions, std::round(divisions), 1e-9);
      EXPECT_NEAR(move.turns * stand.pitch_m, move.raise_m, 1e-9);
      EXPECT_EQ(++touched[at(move.stand.value)], 1);
      EXPECT_TRUE(std::isfinite(move.jack_N) && std::isfinite(move.torque_Nm));
    }
  }
  // Out of tolerance and nothing to turn: then a reason.
  EXPECT_TRUE(advice.in_tolerance || !advice.moves.empty() || !advice.cannot_fix.empty());
}

/// A random deck that stands, of 1 to 5 hinged modules.
struct RandomCase {
  deck::Deck deck;
  statics::Model model;
};

std::optional<RandomCase> random_case(std::uint64_t seed) {
  statics::tests::RandomDeck random(seed);
  const auto kind = seed % 5 == 0 ? statics::tests::Kind::one_piece : statics::tests::Kind::hinged;
  deck::Deck deck = metered(random.make(kind, random.whole(1, 5)));
  statics::BuiltModel result = statics::build_model(deck);
  if (!result.model) return std::nullopt;
  return RandomCase{deck, *result.model};
}

TEST(AdviceOnAnyReadings, IsFiniteAndSettable) {
  int cases = 0;
  for (std::uint64_t seed = 1; cases < 25; ++seed) {
    const std::optional<RandomCase> c = random_case(seed);
    if (!c) continue;
    ++cases;
    SCOPED_TRACE(seed);
    statics::tests::RandomDeck random(seed + 1000);
    std::vector<double> mV;
    for (int i = 0; i < c->deck.stand_count(); ++i) mV.push_back(random.between(-0.5, 6.0));
    expect_sane(c->deck, advice_on(c->deck, c->model, {readings_mV(mV, random.coin())}, 60));
  }
}

TEST(AdviceOnAnyDeck, IsFiniteAndSettable) {
  int cases = 0;
  int turned = 0;
  for (std::uint64_t seed = 1; cases < 25; ++seed) {
    const std::optional<RandomCase> c = random_case(seed);
    if (!c) continue;
    ++cases;
    SCOPED_TRACE(seed);
    rehearsal::Site site(c->deck, {}, seed);
    std::vector<Measurement> events = {site.read(seed % 3 != 0)};
    const Advice first = advice_on(c->deck, c->model, events, 60);
    expect_sane(c->deck, first);
    if (first.moves.empty()) continue;
    ++turned;
    record::TurnSet turns;
    for (const Move& move : first.moves) {
      record::StandTurn turn;
      turn.stand = move.stand;
      turn.turns = move.turns;
      turns.stands.push_back(turn);
    }
    site.turn(turns.stands);
    events.emplace_back(turns);
    events.emplace_back(site.read(seed % 3 != 0));
    expect_sane(c->deck, advice_on(c->deck, c->model, events, 60));
  }
  EXPECT_GE(turned, 10);
}

// ---- belief

/// Chance of a greater chi-square than that of these ranks if they were uniform.
double chance_of_uniform(const std::vector<double>& ranks) {
  constexpr int kBins = 10;
  std::array<int, kBins> count{};
  for (const double rank : ranks) ++count[at(std::min(kBins - 1, static_cast<int>(rank * kBins)))];
  const double expected = static_cast<double>(ranks.size()) / kBins;
  double chi2 = 0.0;
  for (const int n : count) chi2 += (n - expected) * (n - expected) / expected;
  const boost::math::chi_squared law(kBins - 1.0);
  return boost::math::cdf(boost::math::complement(law, chi2));
}

/// A truth drawn from what the tool believes beforehand ranks uniformly among samples drawn from
/// what it believes afterwards, if the inference is right (simulation-based calibration: Cook,
/// Gelman & Rubin, J. Comput. Graph. Stat. 15 (2006) 675-692; Talts et al. 2018).
/// @param pads_m  standard deviation of the true stand tops; believed: 4 mm
/// Returns the least chance of such ranks over twist mismatch and stiffness of every module.
double least_chance(int modules, double twisting_Nm2, bool two_states, double pads_m = 4e-3) {
  deck::Deck deck = chain(modules, twisting_Nm2);
  for (deck::Module& module : deck.modules) {
    module.crossbeam_bending_Nm2 = 1e12;  // so that twist stiffness is GJ and nothing else
    module.crossbeam_twisting_Nm2 = 0.0;
    module.twisting_spread = 1.6;
    module.centre_spread_m = 0.0;
  }
  deck.sharing.module_twist_m = 0.0;
  rehearsal::Spread spread;
  spread.bend_factor = 1.0;
  spread.height_m = pads_m;
  spread.stand_factor = 1.0;
  spread.place_m = 0.0;
  const statics::Model model = built(deck);
  const Reduced reduced = reduce(deck, model, {});
  std::vector<std::vector<double>> mismatch_ranks(at(modules));
  std::vector<std::vector<double>> stiffness_ranks(at(modules));
  for (std::uint64_t seed = 0; seed < 150; ++seed) {
    rehearsal::Site site(deck, spread, 77000 + seed);
    std::vector<Measurement> events = {site.read(true)};
    if (two_states) {
      const record::TurnSet turns = turns_of({{0, seed % 2 == 0 ? 1.0 : -1.0}});
      site.turn(turns.stands);
      events.emplace_back(turns);
      events.emplace_back(site.read(true));
    }
    const GatheredEvidence gathered = gather(deck, model, events);
    const Belief belief = fit(reduced, *gathered.evidence, 200, seed);
    const Eigen::VectorXd truth_m = reduced.stand_rows.transpose() * site.true_heights_m();
    const auto rank = [&belief](const auto& is_below) {
      const auto below = std::count_if(belief.samples.begin(), belief.samples.end(), is_below);
      return (static_cast<double>(below) + 0.5) / (static_cast<double>(belief.samples.size()) + 1);
    };
    for (int i = 0; i < modules; ++i) {
      mismatch_ranks[at(i)].push_back(
          rank([&](const Sample& sample) { return sample.mismatch_m(i) < truth_m(i); }));
    }
    for (std::size_t k = 0; k < reduced.parameters.size(); ++k) {
      if (!reduced.parameters[k].is_twist) continue;
      const std::size_t body = at(reduced.parameters[k].body);
      const double factor = site.true_deck().modules[body].twisting_Nm2 / twisting_Nm2;
      stiffness_ranks[body].push_back(
          rank([&](const Sample& sample) { return sample.factor[k] < factor; }));
    }
  }
  double least = 1.0;
  for (int i = 0; i < modules; ++i) {
    least = std::min({least, chance_of_uniform(mismatch_ranks[at(i)]),
                      chance_of_uniform(stiffness_ranks[at(i)])});
  }
  return least;
}

TEST(Belief, IsCalibratedOnASoftModule) {
  EXPECT_GT(least_chance(1, 20e6, false), 1e-4);
}
TEST(Belief, IsCalibratedOnAStiffModuleThatLifts) {
  EXPECT_GT(least_chance(1, 200e6, false), 1e-4);
}
TEST(Belief, IsCalibratedAfterATurn) {
  EXPECT_GT(least_chance(1, 94e6, true), 1e-4);
}

TEST(Belief, IsCalibratedOnAChainWhereStandsAndBearingsHang) {
  EXPECT_GT(least_chance(3, 94e6, false), 1e-4);
}
TEST(Belief, IsCalibratedOnAChainAfterATurn) {
  EXPECT_GT(least_chance(3, 94e6, true), 1e-4);
}

// The ranks do tell: pads three times as rough as believed are found out.
TEST(Belief, IsFoundOutWhereItIsWrong) {
  EXPECT_LT(least_chance(1, 200e6, false, 12e-3), 1e-4);
}

}  // namespace
}  // namespace weighwright::share
