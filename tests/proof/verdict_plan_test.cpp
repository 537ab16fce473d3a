// What the plan asks for is what the verdict wants: a plan that was carried out without a flaw
// passes.
#include <gtest/gtest.h>

#include <cmath>

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
ProofReading carried_out(const Placement& placement, double d, bool before_rounding) {
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
    one.start_kg = d * std::round(unknown_kg(placement) / d);
    one.reading.indication_kg = d * std::round((*one.start_kg + placement.weights_kg) / d);
  }
  if (!before_rounding && placement.check != Check::discrimination) one.reading.added_kg.reset();
  const bool zero = placement.check == Check::zero;
  if (placement.read_zero_before && !zero) one.reading.zero_before_kg = 0.0;
  if (placement.read_zero_after) one.reading.zero_after_kg = 0.0;
  return one;
}

void expect_pass(const char* book, const std::vector<record::Weight>& weights) {
  deck::Deck deck = example_deck("three-modules");
  deck.rulebook = book;
  const bool oiml = std::string(book) == "R76";
  deck.accuracy_class = oiml ? "III" : "III L";
  deck.clc_kg = 35'000.0;
  const PlanRequest request = request_of(weights);
  const TestPlan plan = plan_test(deck, model_of(deck), rules::built_in(book), request);
  ASSERT_TRUE(plan.possible);
  std::vector<ProofReading> rows;
  for (const Placement& placement : plan.placements) {
    rows.push_back(carried_out(placement, deck.interval_kg, oiml));
  }
  ProofCase what = case_of(rows);
  what.weights = weights;
  what.day = request.day;
  what.occasion = request.occasion;
  const Verdict verdict = prove(deck, rules::built_in(book), what);
  EXPECT_EQ(verdict.outcome, Outcome::pass) << book << "\n" << told(verdict);
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

}  // namespace
}  // namespace weighwright::proof
