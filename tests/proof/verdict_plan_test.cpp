// What the plan asks for is what the verdict wants: a plan that was carried out without a flaw
// passes.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <sstream>

#include "plan_sites.h"
#include "verdict_results.h"

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)

/// About what a lorry of unknown mass weighs.
double unknown_kg(const Placement& placement) {
  return std::max(0.0, placement.load_kg - placement.weights_kg);
}

std::string heap_of(const Placement& placement) {
  std::string heap;
  for (const std::string& name : placement.substitutes) heap += (heap.empty() ? "" : "+") + name;
  return heap;
}

/// What a scale without errors shows, with small weights where errors count before rounding.
ProofReading carried_out(const Placement& placement, const deck::Deck& deck, bool before_rounding) {
  const double d = deck.interval_kg;
  const double load = placement.weights_kg + unknown_kg(placement);
  ProofReading one = changeover(std::string(rules::code_of(placement.check)), load, 0.0, d);
  one.reading.load_kg.reset();
  one.weights.clear();
  for (const Taken& taken : placement.weights) {
    one.weights.push_back(taken.id + "*" + std::to_string(taken.count));
  }
  if (placement.weights_kg > 0.0 || placement.substitutes.empty()) {
    one.reading.load_kg = placement.weights_kg;
  }
  one.reading.material = heap_of(placement);
  one.reading.place = placement.place;
  one.heading = placement.heading;
  one.run = placement.run;
  if (placement.check == Check::discrimination) {
    one.reading.added_kg = placement.added_d * d;
    one.then_kg = one.reading.indication_kg + 2.0 * d;
  }
  if (placement.check == Check::strain) {
    // A strain load goes to Max; what lies beneath the weights is read and not known.
    one.start_kg = d * std::floor((deck.capacity_kg - placement.weights_kg) / d);
    one.reading.indication_kg = d * std::round((*one.start_kg + placement.weights_kg) / d);
  }
  if (!before_rounding && placement.check != Check::discrimination) one.reading.added_kg.reset();
  const bool zero = placement.check == Check::zero;
  if (placement.read_zero_before && !zero) one.reading.zero_before_kg = 0.0;
  if (placement.read_zero_after) one.reading.zero_after_kg = 0.0;
  return one;
}

std::string said(const TestPlan& plan) {
  return weighwright::proof::tests::told(plan);
}

void expect_pass(const deck::Deck& deck, const rules::Rulebook& book, const PlanRequest& request) {
  const TestPlan plan = plan_test(deck, model_of(deck), book, request);
  ASSERT_TRUE(plan.possible) << said(plan);
  std::vector<ProofReading> rows;
  for (const Placement& placement : plan.placements) {
    rows.push_back(carried_out(placement, deck, book.before_rounding));
  }
  ProofCase what = case_of(rows);
  what.weights = request.weights;
  what.day = request.day;
  what.occasion = request.occasion;
  const Verdict verdict = prove(deck, book, what);
  EXPECT_EQ(verdict.outcome, Outcome::pass) << book.code << "\n" << told(verdict) << said(plan);
}

void expect_pass(const char* book, const std::vector<record::Weight>& weights) {
  deck::Deck deck = example_deck("three-modules");
  deck.rulebook = book;
  const bool oiml = std::string(book) == "R76";
  deck.accuracy_class = oiml ? "III" : "III L";
  deck.clc_kg = 35'000.0;
  expect_pass(deck, rules::built_in(book), request_of(weights));
}

TEST(VerdictOfPlan, PassesWithWeightsToMax) {
  for (const char* book : {"R76", "H44"}) {
    expect_pass(book, {pieces("T", 1000.0, 60), pieces("K", 20.0, 50, record::Handling::hand),
                       certified_vehicle("V", 40'000.0, 10.0)});
  }
}

TEST(VerdictOfPlan, PassesWithSubstitutes) {
  for (const char* book : {"R76", "H44"}) {
    expect_pass(book, {pieces("T", 1000.0, 30), pieces("K", 20.0, 50, record::Handling::hand)});
  }
}

// HB 44, N.1.12 and App. D (strain-load test): above the weights at hand a strain load takes over.
// 31 000 lb of a capacity of 200 000 lb: less than the test load of Table 4, 50 000 lb.
TEST(VerdictOfPlan, PassesWithAStrainLoadAboveTheWeights) {
  for (const int thousands : {25, 31, 43}) {
    const deck::Deck deck = example_deck("five-modules-us");
    expect_pass(deck, rules::built_in("H44"), request_of(pounds(thousands)));
  }
}

// HB 44, Table 6, III L: steps every 500 d up to Max are a handful of loads.
TEST(VerdictOfPlan, PassesWithSubstitutesWhereLimitsStepOften) {
  PlanRequest request = request_of(pounds(50));
  request.weights.push_back(lorry("L", 22'000.0, 6.0));
  const deck::Deck deck = example_deck("five-modules-us");
  const TestPlan plan = plan_of(deck, request);
  EXPECT_LE(of_check(plan, Check::increasing).size(), 11U) << said(plan);  // with 3 substitutes
  expect_pass(deck, rules::built_in("H44"), request);
}

TEST(VerdictOfPlan, PassesOnDecksOfOneModule) {
  const deck::Deck deck = example_deck("one-module");
  const std::vector<record::Weight> small{pieces("K", 20.0, 20, record::Handling::hand)};
  for (const int tonnes : {20, 25, 40}) {
    std::vector<record::Weight> weights = small;
    weights.push_back(pieces("T", 1000.0, tonnes));
    expect_pass(deck, rules::built_in("R76"), request_of(weights));
  }
}

TEST(VerdictOfPlan, PassesOnAHandbookDeckOfOneModule) {
  deck::Deck deck = example_deck("one-module");
  deck.rulebook = "H44";
  deck.accuracy_class = "III L";
  deck.interval_kg = 10.0;
  deck.clc_kg = 30'000.0;
  expect_pass(deck, rules::built_in("H44"), request_of({pieces("T", 1000.0, 7)}));
  expect_pass(deck, rules::built_in("H44"), request_of({pieces("T", 1000.0, 40)}));
}

// A step at 40 t (R 76-1:2006, Table 6, III: 2000 e) that the weights alone do not make.
TEST(VerdictOfPlan, PassesWithACertifiedVehicleAtAStep) {
  expect_pass("R76", {pieces("W", 1000.0, 30), pieces("K", 20.0, 50, record::Handling::hand),
                      certified_vehicle("R", 39'988.0, 12.0)});
}

// A variant that asks for rolling loads as such (examples/rulebooks/tarnland.toml, invented).
TEST(VerdictOfPlan, RollsAVehicleOfUnknownMassWhereRollingIsRequired) {
  std::ifstream file(std::string(WEIGHWRIGHT_SOURCE_DIR) + "/examples/rulebooks/tarnland.toml");
  std::stringstream text;
  text << file.rdbuf();
  const auto parsed = rules::read_rulebook(text.str(), "tarnland.toml");
  ASSERT_TRUE(parsed.rulebook);
  deck::Deck deck = example_deck("three-modules");
  const PlanRequest request =
      request_of({pieces("T", 1000.0, 60), pieces("K", 20.0, 50, record::Handling::hand)});
  const TestPlan plan = plan_test(deck, model_of(deck), *parsed.rulebook, request);
  ASSERT_TRUE(plan.possible) << said(plan);
  const auto passes = of_check(plan, Check::rolling);
  EXPECT_EQ(passes.front().heading, record::Heading::to_end_2);
  std::size_t required = 0;
  for (const Placement& pass : passes) {
    required += pass.required ? 1U : 0U;
    if (!pass.required) continue;
    EXPECT_EQ(pass.substitutes, passes.front().substitutes);
    EXPECT_EQ(parsed.rulebook->cite(pass.source).find("Tarnland"), 0U);
  }
  EXPECT_EQ(required, 6U) << said(plan);
  EXPECT_EQ(of_check(plan, Check::eccentric).size(), 8U);  // on top of it, not instead
  EXPECT_EQ(finding_of(plan, "no_rolling_load"), nullptr);
  ASSERT_NE(finding_of(plan, "rolling_unknown"), nullptr);
  PlanRequest nothing = request;
  nothing.lorries = false;
  const TestPlan without = plan_test(deck, model_of(deck), *parsed.rulebook, nothing);
  EXPECT_FALSE(without.possible);
  ASSERT_NE(finding_of(without, "no_rolling_load"), nullptr);
  EXPECT_TRUE(finding_of(without, "no_rolling_load")->blocks);
  EXPECT_EQ(finding_of(without, "no_rolling_load")->source.clause, "art. 11");
  // Art. 9 (1) says how much there must be at least.
  EXPECT_NE(plan.standards.because.find("art. 9 (1)"), std::string::npos) << plan.standards.because;
  expect_pass(deck, *parsed.rulebook, request);
}

// The lorry that took the place of 20 t weighs 19 428 kg: going down it is read with that.
TEST(VerdictOfPlan, ComparesMaterialGoingDownWithItsOwnWorth) {
  const deck::Deck deck = example_deck("one-module");
  const PlanRequest request =
      request_of({pieces("T", 1000.0, 20), pieces("K", 20.0, 20, record::Handling::hand)});
  const TestPlan plan = plan_of(deck, request);
  std::vector<ProofReading> rows;
  for (const Placement& placement : plan.placements) {
    rows.push_back(carried_out(placement, deck, true));
    const bool light = !placement.substitutes.empty() && (placement.check == Check::increasing ||
                                                          placement.check == Check::decreasing ||
                                                          placement.check == Check::discrimination);
    if (!light) continue;
    rows.back().reading.indication_kg -= 20.0 * 28.0;  // one step of 20 kg less would be 19 440 kg
    if (rows.back().then_kg) *rows.back().then_kg -= 20.0 * 28.0;
  }
  ProofCase what = case_of(rows);
  what.weights = request.weights;
  what.day = request.day;
  const Verdict whole = prove(deck, rules::built_in("R76"), what);
  EXPECT_FALSE(is_missing(whole, Check::decreasing, "decreasing_loads")) << told(whole);
  std::erase_if(what.results.front().readings, [](const ProofReading& one) {
    return one.check == "decreasing" && one.reading.load_kg.value_or(0.0) == 0.0;
  });
  const Verdict part = prove(deck, rules::built_in("R76"), what);
  ASSERT_TRUE(is_missing(part, Check::decreasing, "decreasing_loads")) << told(part);
  for (const Missing& one : part.missing) {
    if (one.check != Check::decreasing) continue;
    EXPECT_NE(one.where.find("19440 kg"), std::string::npos) << one.where;
  }
}

}  // namespace
}  // namespace weighwright::proof
