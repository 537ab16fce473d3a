// Certified weights stand around their nominal values, and substitutes never weigh the round
// figure: what counts as a step of the limits or as Max, and what is another line. Deck, weights
// and readings are our own invention.
//
// The allowance (a third of the limit there) is our own, of the size of R 76-1:2006, 3.7.1. Limits:
// R 76-1:2006, 3.5.1, Table 6, class III, e = 20 kg: 10 kg to 10 t, 20 kg to 40 t, 30 kg above.
#include <gtest/gtest.h>

#include "plan_sites.h"
#include "verdict_results.h"

// outside check: limits at steps that certified weights overshoot, and at loads above a step |
//  R 76-1:2006, 3.5.1, Table 6, as quoted by OIML Bulletin 2013/03

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)

/// Every tonne block weighs so much by its certificate.
ProofCase with_tonnes_of(std::vector<ProofReading> rows, double tonne_kg) {
  ProofCase what = case_of(std::move(rows));
  record::Weight& tonnes = what.weights.front();
  tonnes.conventional_kg = tonne_kg;
  tonnes.uncertainty_kg = 0.016;
  tonnes.traced_to = "county standard";
  return what;
}

Verdict prove_r76(const ProofCase& what) {
  return prove(weighbridge(60'000.0, 20.0, "R76"), r76(), what);
}

const JudgedLine* line_at(const Verdict& verdict, Check check, double load_kg) {
  for (const JudgedLine& line : verdict.lines) {
    if (line.check == check && std::abs(line.load_kg - load_kg) < 0.5) return &line;
  }
  return nullptr;
}

TEST(NominalLoads, SixtyWeightsAboveNominalAreMax) {
  const Verdict verdict = prove_r76(with_tonnes_of(sound_r76(), 1000.012));
  EXPECT_EQ(verdict.outcome, Outcome::pass) << told(verdict);
  EXPECT_TRUE(verdict.missing.empty()) << told(verdict);
  EXPECT_EQ(find(verdict, "over_capacity"), nullptr);
  const JudgedLine* const top = line_at(verdict, Check::increasing, 60'000.72);
  ASSERT_NE(top, nullptr);
  EXPECT_NEAR(top->load_kg, 60'000.72, 1e-9);  // the certified value
  EXPECT_DOUBLE_EQ(top->judged_as_kg, 60'000.0);
  ASSERT_NE(find(verdict, "counted_as_nominal"), nullptr);
  EXPECT_FALSE(find(verdict, "counted_as_nominal")->blocks);
}

TEST(NominalLoads, AtAStepTheTighterLimitJudgesTheErrorOfTheCertifiedValue) {
  const Verdict verdict = prove_r76(with_tonnes_of(sound_r76(), 1000.012));
  const JudgedLine* const step = line_at(verdict, Check::increasing, 10'000.12);
  ASSERT_NE(step, nullptr);
  EXPECT_DOUBLE_EQ(step->limit.value().kg, 10.0);
  // Made for an error of 3 kg of 10 000 kg, from a zero of 2 kg.
  EXPECT_NEAR(step->error_kg, 3.0 - 2.0 - 0.12, 1e-9);
  const Verdict beyond = prove_r76(with_tonnes_of(
      {changeover("zero", 0.0, 0.0, 20.0), changeover("increasing", 10'000.0, 10.5, 20.0)},
      1000.012));
  EXPECT_FALSE(line_at(beyond, Check::increasing, 10'000.12)->passed);  // 10.38 kg of 10 kg
}

TEST(NominalLoads, BeyondTheAllowanceIsAboveMax) {
  const Verdict verdict = prove_r76(with_tonnes_of(sound_r76(), 1000.2));  // 60 012 kg
  const ProofFinding* const finding = find(verdict, "over_capacity");
  ASSERT_NE(finding, nullptr);
  EXPECT_TRUE(finding->blocks);
  EXPECT_NE(verdict.outcome, Outcome::pass);
}

TEST(NominalLoads, ASubstituteALittleHeavyStillMakesMax) {
  // Three times 20 t: the second substitute makes the whole 2 kg heavier than Max.
  std::vector<ProofReading> rows = {
      changeover("zero", 0.0, 0.0, 20.0),
      changeover("increasing", 20'000.0, 0.0, 20.0),
      with_material(changeover("increasing", 0.0, 20'002.0, 20.0), "S1"),
      with_material(changeover("increasing", 20'000.0, 20'002.0, 20.0), "S1"),
      with_material(changeover("increasing", 0.0, 40'002.0, 20.0), "S1+S2"),
      with_material(changeover("increasing", 20'000.0, 40'002.0, 20.0), "S1+S2")};
  const Verdict verdict = prove_r76(part_of(rows));
  EXPECT_EQ(find(verdict, "over_capacity"), nullptr) << told(verdict);
  const JudgedLine* const top = line_at(verdict, Check::increasing, 60'002.0);
  ASSERT_NE(top, nullptr) << told(verdict);
  EXPECT_TRUE(top->judged);
  EXPECT_DOUBLE_EQ(top->limit.value().kg, 30.0);
  const JudgedLine* const step = line_at(verdict, Check::increasing, 40'002.0);
  ASSERT_NE(step, nullptr);
  EXPECT_DOUBLE_EQ(step->limit.value().kg, 20.0);
}

TEST(NominalLoads, WeightsAboveNominalOnOnePatternCountAsTheClc) {
  ProofCase what = part_of({at_section(row("section", 35'000.0, 35'000.0), 1)});
  what.weights.front().conventional_kg = 1000.012;
  what.weights.front().uncertainty_kg = 0.016;
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "H44"), h44(), what);
  EXPECT_EQ(find(verdict, "over_section"), nullptr) << told(verdict);
  // A kilogram that is no weight's own is one too many.
  record::ProofReading heavy = at_section(row("section", 35'001.0, 35'000.0), 1);
  heavy.weights.clear();
  EXPECT_NE(
      find(prove(weighbridge(60'000.0, 20.0, "H44"), h44(), part_of({heavy})), "over_section"),
      nullptr);
}

std::vector<ProofReading> with_step_at(double load_kg, double error_kg) {
  std::vector<ProofReading> rows = sound_r76();
  for (ProofReading& one : rows) {
    if (one.check == "increasing" && one.reading.load_kg == 10'000.0) {
      one = changeover("increasing", load_kg, error_kg, 20.0);
    }
  }
  return rows;
}

// 11 t are judged by 20 kg: an error of 14 kg passes there, and would not at 10 t.
TEST(NominalLoads, ALoadAboveAStepDoesNotReplaceTheStep) {
  const Verdict verdict = prove_r76(case_of(with_step_at(11'000.0, 14.0)));
  EXPECT_EQ(verdict.outcome, Outcome::incomplete) << told(verdict);
  ASSERT_TRUE(is_missing(verdict, Check::increasing, "load")) << told(verdict);
  for (const Missing& one : verdict.missing) {
    if (one.check != Check::increasing) continue;
    EXPECT_DOUBLE_EQ(one.load_kg, 10'000.0);
  }
  EXPECT_DOUBLE_EQ(line_at(verdict, Check::increasing, 11'000.0)->limit.value().kg, 20.0);
}

TEST(NominalLoads, ALoadJustBelowAStepIsTheStep) {
  const Verdict verdict = prove_r76(case_of(with_step_at(9'980.0, 2.0)));
  EXPECT_FALSE(is_missing(verdict, Check::increasing, "load")) << told(verdict);
}

/// Blocks on wheels are planned by their certified value.
TEST(NominalLoads, APlanMakesMaxAndStepsOfCertifiedCarts) {
  record::Weight carts = pieces("C", 1000.0, 60, record::Handling::cart);
  carts.conventional_kg = 1000.012;
  carts.uncertainty_kg = 0.016;
  const deck::Deck deck = example_deck("three-modules");
  const TestPlan plan =
      plan_of(deck, request_of({carts, pieces("K", 20.0, 20, record::Handling::hand)}));
  ASSERT_TRUE(plan.possible) << told(plan);
  bool max = false;
  bool step = false;
  for (const Placement& one : plan.placements) {
    if (one.check != Check::increasing) continue;
    max |= std::abs(one.load_kg - 60'000.72) < 1e-6;
    if (std::abs(one.load_kg - 10'000.12) > 1e-6) continue;
    step = true;
    EXPECT_DOUBLE_EQ(one.limit.value().kg, 10.0);
  }
  EXPECT_TRUE(max) << told(plan);
  EXPECT_TRUE(step) << told(plan);
}

}  // namespace
}  // namespace weighwright::proof
