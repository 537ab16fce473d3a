// A plan that is carried out as it stands must leave the verdict nothing to miss: the two read the
// same rulebook by different ways. Deck, weights and readings are our own invention.
#include <gtest/gtest.h>

#include <string>

#include "plan_sites.h"
#include "proof/verdict.h"

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)
using record::Handling;
using rules::Check;

std::string joined(const std::vector<std::string>& names) {
  std::string all;
  for (const std::string& name : names) all += (all.empty() ? "" : "+") + name;
  return all;
}

/// What a scale without any error shows of one placement.
record::ProofReading shown(const Placement& placement, double interval_kg) {
  record::ProofReading row;
  row.check = rules::code_of(placement.check);
  row.run = placement.run;
  row.heading = placement.heading;
  row.reading.place = placement.place;
  row.reading.load_kg = placement.weights_kg;
  row.reading.material = joined(placement.substitutes);
  row.reading.indication_kg = placement.load_kg;
  row.reading.last_digit_kg = interval_kg;
  row.reading.added_kg = interval_kg / 2.0;  // on the changeover: nothing to correct
  if (placement.read_zero_before) row.reading.zero_before_kg = 0.0;
  if (placement.read_zero_after) row.reading.zero_after_kg = 0.0;
  for (const Taken& taken : placement.weights) {
    row.weights.push_back(taken.id + "*" + std::to_string(taken.count));
  }
  return row;
}

record::ProofReading row_of(const Placement& placement, const deck::Deck& deck) {
  const double interval_kg = deck.interval_kg;
  record::ProofReading row = shown(placement, interval_kg);
  if (placement.check == Check::strain) {
    row.start_kg = deck.capacity_kg - placement.weights_kg;
    row.reading.indication_kg = *row.start_kg + placement.weights_kg;
  }
  if (placement.check == Check::discrimination) {
    row.reading.added_kg = placement.added_d * interval_kg;
    row.then_kg = row.reading.indication_kg + 2.0 * interval_kg;
  }
  return row;
}

Verdict carried_out(const deck::Deck& deck, const PlanRequest& request, const TestPlan& plan) {
  ProofCase what;
  what.occasion = request.occasion;
  what.weights = request.weights;
  what.day = request.day;
  what.sample = false;
  record::ProofSet set;
  set.source = "as planned";
  for (const Placement& placement : plan.placements) {
    set.readings.push_back(row_of(placement, deck));
  }
  what.results = {set};
  return prove(deck, rules::built_in(deck.rulebook), what);
}

std::string missing(const Verdict& verdict) {
  std::string all;
  for (const Missing& one : verdict.missing) {
    all += std::string(rules::code_of(one.check)) + " " + one.code + " " + one.where + " " +
           std::to_string(one.load_kg) + '\n';
  }
  for (const ProofFinding& one : verdict.findings) {
    all += (one.blocks ? "! " : ": ") + one.code + " " + one.what + '\n';
  }
  return all;
}

void expect_complete(const deck::Deck& deck, const PlanRequest& request) {
  const TestPlan plan = plan_of(deck, request);
  ASSERT_TRUE(plan.possible) << told(plan);
  const Verdict verdict = carried_out(deck, request, plan);
  EXPECT_TRUE(verdict.missing.empty()) << missing(verdict) << told(plan);
}

TEST(PlanToVerdict, WeightsToMaxMissNothing) {
  expect_complete(example_deck("three-modules"),
                  request_of({pieces("T", 1000.0, 60), pieces("K", 20.0, 50, Handling::hand)}));
}

TEST(PlanToVerdict, RollingLoadsMissNothing) {
  expect_complete(example_deck("three-modules"),
                  request_of({pieces("T", 1000.0, 60), pieces("K", 20.0, 50, Handling::hand),
                              certified_vehicle("V", 40'000.0, 9.0)}));
}

TEST(PlanToVerdict, SubstitutionMissesNothing) {
  PlanRequest request =
      request_of({pieces("T", 1000.0, 20), pieces("K", 20.0, 50, Handling::hand)});
  request.repeatability_kg = 4.0;
  expect_complete(example_deck("three-modules"), request);
}

TEST(PlanToVerdict, SectionsAndWeightsByTheHandbookMissNothing) {
  record::Weight blocks = pieces("B", 1000.0 * kPound, 50);
  blocks.weight_class = "F";
  expect_complete(example_deck("five-modules-us"), request_of({blocks}));
}

TEST(PlanToVerdict, StrainLoadMissesNothing) {
  record::Weight blocks = pieces("B", 1000.0 * kPound, 25);
  blocks.weight_class = "F";
  expect_complete(example_deck("five-modules-us"), request_of({blocks}));
}

}  // namespace
}  // namespace weighwright::proof
