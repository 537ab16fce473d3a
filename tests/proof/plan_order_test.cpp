// Order, zero readings and minutes of a plan. Decks, weights and lorries are our own
// invention; the source stands beside each check. "Metrology notes" are our excerpts of published
// texts, with their carriers.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <set>

#include "plan_sites.h"

// outside check: edge cases 15 and 16: no zero setting inside a build-up, the same loads going
//  down, zero after unloading | R 76-1:2006, A.4.4.1, as quoted by OIML Bulletin 2001/04; 3.7.3
//  (from memory, unverified); UK Code of Practice for non-automatic instruments; HB 44, 2.20,
//  N.1.9 (from memory, unverified)
// outside check: minutes of a plan with one kind of piece | by hand from the costs of handling,
//  which are estimates, no source

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)
using record::Handling;
using rules::Check;

// ---- order and zero ----------------------------------------------------------------------------

// R 76-1, 3.7.3; UK Code of Practice for non-automatic instruments (metrology notes 2.5): errors
// are carried forward, zero is never set again on the way.
TEST(TestPlan, EdgeCase15NeverSetsZeroInsideABuildUp) {
  PlanRequest request =
      request_of({pieces("T", 1000.0, 20), pieces("K", 20.0, 50, Handling::hand)});
  request.repeatability_kg = 6.0;
  const TestPlan plan = plan_of(chain(4, "R76", 60'000.0, 20.0), request);
  int begins = 0;
  int ends = 0;
  for (const Placement& one : plan.placements) {
    if (one.check != Check::increasing && one.check != Check::decreasing &&
        one.check != Check::discrimination) {
      continue;
    }
    begins += one.read_zero_before ? 1 : 0;
    ends += one.read_zero_after ? 1 : 0;
    if (!one.substitutes.empty()) {
      EXPECT_FALSE(one.read_zero_before);
    }
  }
  EXPECT_EQ(begins, 1) << told(plan);
  EXPECT_EQ(ends, 1);
}

TEST(TestPlan, SubstitutesReplaceTheWeightsStepByStep) {
  PlanRequest request = request_of({pieces("T", 1000.0, 20)});
  request.repeatability_kg = 6.0;
  const TestPlan plan = plan_of(chain(4, "R76", 60'000.0, 20.0), request);
  double before = 0.0;
  std::size_t substitutes = 0;
  for (const Placement& one : of_check(plan, Check::increasing)) {
    EXPECT_GE(one.load_kg, before - 1e-6) << told(plan);
    if (one.substitutes.size() > substitutes) {
      // The display comes back to what it showed with the weights.
      EXPECT_EQ(one.substitutes.size(), substitutes + 1);
      EXPECT_TRUE(one.weights.empty());
      EXPECT_NEAR(one.load_kg, before, 1e-6);
    }
    substitutes = one.substitutes.size();
    before = one.load_kg;
  }
  EXPECT_EQ(substitutes, 2U);
}

// R 76-1, A.4.4.1 (OIML Bulletin 2001/04): the loads going up again going down; NI reg. 18 and HB
// 44, N.1.9: zero after a load came off.
TEST(TestPlan, EdgeCase16UsesTheSameLoadsGoingDown) {
  for (const bool substituted : {false, true}) {
    PlanRequest request = request_of(sixty_tonnes());
    if (substituted) request.weights.front().count = 20;
    request.repeatability_kg = 6.0;
    const TestPlan plan = plan_of(chain(4, "R76", 60'000.0, 20.0), request);
    std::set<long> up;
    for (const Placement& one : of_check(plan, Check::increasing)) {
      up.insert(std::lround(one.load_kg));
    }
    std::set<long> down;
    double before = 1e9;
    for (const Placement& one : of_check(plan, Check::decreasing)) {
      down.insert(std::lround(one.load_kg));
      EXPECT_LT(one.load_kg, before) << told(plan);
      before = one.load_kg;
    }
    up.erase(std::prev(up.end()));  // the greatest has no way down to it
    EXPECT_EQ(up, down) << told(plan);
    EXPECT_TRUE(of_check(plan, Check::decreasing).back().read_zero_after);
  }
}

// Field practice, no source: zero before and after each placement; a load on wheels may go on where
// the user says so, and zero is read at both ends of the walk.
TEST(TestPlan, ReadsZeroAroundEverySectionUnlessTheCartGoesOn) {
  const deck::Deck deck = example_deck("five-modules-us");
  std::vector<record::Weight> weights = pounds(30);
  weights.push_back(certified_vehicle("C", 26'000.0 * kPound, 3.0, Handling::cart));
  PlanRequest request = request_of(weights);
  for (const Placement& one : of_check(plan_of(deck, request), Check::section)) {
    EXPECT_TRUE(one.read_zero_before && one.read_zero_after);
  }
  request.zero_each = false;
  const TestPlan plan = plan_of(deck, request);
  const auto walked = of_check(plan, Check::section);
  ASSERT_EQ(walked.size(), 6U);
  for (std::size_t i = 0; i < walked.size(); ++i) {
    EXPECT_EQ(walked[i].read_zero_before, i == 0) << told(plan);
    EXPECT_EQ(walked[i].read_zero_after, i + 1 == walked.size());
    ASSERT_EQ(walked[i].weights.size(), 1U);
    EXPECT_EQ(walked[i].weights.front().id, "C");
  }
}

TEST(TestPlan, MarksWhatNoRulebookAsksFor) {
  std::vector<record::Weight> weights = pounds(30);
  weights.push_back(lorry("L", 30'000.0, 12.0));
  PlanRequest request = request_of(weights);
  const TestPlan plan = plan_of(example_deck("five-modules-us"), request);
  ASSERT_EQ(of_check(plan, Check::midspan).size(), 1U) << told(plan);
  EXPECT_FALSE(of_check(plan, Check::midspan).front().required);
  const auto passes = of_check(plan, Check::rolling);
  ASSERT_EQ(passes.size(), 2U);
  EXPECT_NE(passes[0].heading, passes[1].heading);
  EXPECT_FALSE(passes[0].required || passes[1].required);
  request.extras = false;
  const TestPlan bare = plan_of(example_deck("five-modules-us"), request);
  for (const Placement& one : bare.placements) {
    EXPECT_TRUE(one.required || one.check == Check::strain);
  }
}

TEST(TestPlan, NamesSubstitutesUnlikeTheWeights) {
  record::Weight tonnes = pieces("S1", 1000.0, 20);
  PlanRequest request = request_of({tonnes});
  request.repeatability_kg = 6.0;
  const TestPlan plan = plan_of(chain(4, "R76", 60'000.0, 20.0), request);
  for (const Placement& one : plan.placements) {
    EXPECT_EQ(std::count(one.substitutes.begin(), one.substitutes.end(), "S1"), 0) << told(plan);
  }
  ASSERT_NE(finding_of(plan, "lorry_needed"), nullptr);
  EXPECT_NE(finding_of(plan, "lorry_needed")->what.find("S2"), std::string::npos);
}

TEST(TestPlan, NumbersPlacementsAndAddsTheirMinutes) {
  const TestPlan plan = plan_of(chain(4, "R76", 60'000.0, 20.0), request_of(sixty_tonnes()));
  double sum = 0.0;
  for (const Handling handling : plan.used) sum += handling_cost(handling).set_up;
  int number = 0;
  for (const Placement& one : plan.placements) {
    EXPECT_EQ(one.number, ++number);
    sum += one.minutes;
  }
  EXPECT_NEAR(plan.minutes, sum, 1e-9);
}

// ---- fewest minutes ----------------------------------------------------------------------------

TEST(TestPlan, IsNeverShorterThanItsBound) {
  std::mt19937 random(11);
  for (int round = 0; round < 60; ++round) {
    const int sections = 2 + static_cast<int>(random() % 4);
    const bool us = random() % 2 == 0;
    deck::Deck deck = chain(sections, us ? "H44" : "R76", 60'000.0, 20.0);
    if (us) deck.clc_kg = 40'000.0;
    PlanRequest request = request_of({});
    request.weights.push_back(pieces("T", 1000.0, 10 + static_cast<int>(random() % 55),
                                     static_cast<Handling>(random() % 5)));
    request.weights.push_back(pieces("H", 500.0, 1 + static_cast<int>(random() % 20),
                                     static_cast<Handling>(random() % 5)));
    request.weights.push_back(
        pieces("K", 20.0, 20 + static_cast<int>(random() % 40), Handling::hand));
    if (random() % 2 == 0) request.weights.push_back(lorry("L", 30'000.0, 12.0));
    if (random() % 2 == 0) {
      request.weights.push_back(certified_vehicle("C", 12'000.0, 4.0, Handling::cart));
    }
    request.zero_each = random() % 2 == 0;
    request.sides = random() % 2 == 0;
    request.repeatability_kg = 3.0;
    const TestPlan plan = plan_of(deck, request);
    if (plan.placements.empty()) continue;
    EXPECT_LE(plan.least_minutes, plan.minutes + 1e-9) << told(plan);
    EXPECT_GT(plan.least_minutes, 0.3 * plan.minutes) << told(plan);
  }
}

// Worked out by hand with the minutes of handling_cost: a deck on four stands, twenty tonnes in
// pieces, no lorries, no extras. Supports: a third of 20 t, seven pieces on and off, four times;
// repeatability with 15 t (near 0.8 of 20 t), three times; loads up and down: all pieces once on
// and off, and a placement at every load but the last unloading.
TEST(TestPlan, IsTheShortestWhereThereIsOneKindOfPiece) {
  deck::Deck deck = chain(2, "R76", 20'000.0, 10.0);
  PlanRequest request = request_of({pieces("T", 1000.0, 20)});
  request.extras = false;
  request.lorries = false;
  const TestPlan plan = plan_of(deck, request);
  const HandlingCost fork = handling_cost(Handling::fork);
  const auto alone = [&](double n) { return fork.placement + 2.0 * fork.piece * n; };
  const auto ups = static_cast<double>(of_check(plan, Check::increasing).size());
  const double by_hand = fork.set_up + 4.0 * alone(7) + 3.0 * alone(15) +
                         (2.0 * ups - 1.0) * fork.placement + 2.0 * 20.0 * fork.piece;
  EXPECT_NEAR(plan.minutes, by_hand, 1e-9) << told(plan);
  EXPECT_NEAR(plan.least_minutes, by_hand, 1e-9);
}

// Whatever is at hand, and on whatever deck: an answer, and a reason where it is no.
TEST(TestPlan, NeverBreaksAndAlwaysSaysWhyNot) {
  std::mt19937 random(12);
  const std::vector<double> nominal{0.001, 1.0, 25.0, 1000.0, 30'000.0, 1e6};
  for (int round = 0; round < 150; ++round) {
    const bool us = random() % 2 == 0;
    deck::Deck deck = chain(2 + static_cast<int>(random() % 3), us ? "H44" : "R76", 60'000.0, 20.0);
    PlanRequest request;
    const std::size_t lines = random() % 6;
    for (std::size_t i = 0; i < lines; ++i) {
      record::Weight weight =
          pieces("W" + std::to_string(random() % 4), nominal[random() % nominal.size()],
                 static_cast<int>(random() % 1'000'000), static_cast<Handling>(random() % 5));
      if (random() % 2 == 0) weight.conventional_kg = weight.nominal_kg;
      if (random() % 2 == 0) weight.uncertainty_kg = 0.0;
      if (random() % 4 == 0) weight.nominal_kg = std::nan("");
      if (random() % 4 == 0) weight.length_m = 100.0;
      if (random() % 4 == 0) weight.certificate.clear();
      request.weights.push_back(weight);
    }
    const TestPlan plan = plan_of(deck, request);
    const bool blocked = std::any_of(plan.findings.begin(), plan.findings.end(),
                                     [](const PlanFinding& one) { return one.blocks; });
    EXPECT_NE(plan.possible, blocked) << told(plan);
    EXPECT_TRUE(std::isfinite(plan.minutes) && std::isfinite(plan.least_minutes)) << told(plan);
    for (const PlanFinding& one : plan.findings) EXPECT_FALSE(one.what.empty()) << one.code;
  }
}

TEST(TestPlan, TakesACartWhereItSavesMoreThanItsSetUp) {
  const deck::Deck deck = example_deck("five-modules-us");
  std::vector<record::Weight> weights = pounds(50);
  const double without = plan_of(deck, request_of(weights)).minutes;
  weights.push_back(certified_vehicle("C", 26'000.0 * kPound, 3.0, Handling::cart));
  const TestPlan with = plan_of(deck, request_of(weights));
  EXPECT_LT(with.minutes, without);
  EXPECT_TRUE(std::count(with.used.begin(), with.used.end(), Handling::cart));
}

}  // namespace
}  // namespace weighwright::proof
