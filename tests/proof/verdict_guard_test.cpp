// Verdicts under a guard band, and what uncertainty has to do with simple acceptance. Deck, weights
// and readings are our own invention.
//
// outside check: words of non-binary and binary rules with a guard band | ILAC-G8:09/2019, 4.2.2
// and
//  4.2.3; guarded acceptance w = U: JCGM 106:2012, 8.3.2; capability: 8.2.3
#include <gtest/gtest.h>

#include "verdict_results.h"

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)

constexpr DecisionRule kNonBinary = DecisionRule::guarded;
constexpr DecisionRule kBinary = DecisionRule::guarded_binary;

/// The sound set with one error at 10 t, limit 10 kg; U there is a few kilograms.
Verdict with_error(double error_kg, DecisionRule rule, double guard = 0.2) {
  std::vector<ProofReading> rows = sound_r76();
  for (ProofReading& one : rows) {
    if (one.check == "increasing" && one.reading.load_kg == 10'000.0) {
      one = changeover("increasing", 10'000.0, error_kg + 2.0, 20.0);  // E0 is 2 kg by then
    }
  }
  ProofCase what = case_of(rows);
  what.rule = rule;
  what.guard = guard;
  return prove(weighbridge(60'000.0, 20.0, "R76"), r76(), what);
}

LineCounts counted(const Verdict& verdict) {
  return counts_of(verdict.lines);
}

TEST(GuardedVerdict, WhatPassesWithItsGuardBandPasses) {
  EXPECT_EQ(with_error(1.0, kNonBinary).outcome, Outcome::pass)
      << told(with_error(1.0, kNonBinary));
  EXPECT_EQ(with_error(1.0, kBinary).outcome, Outcome::pass);
}

TEST(GuardedVerdict, ANarrowPassIsConditionalUnderANonBinaryRule) {
  const Verdict verdict = with_error(9.8, kNonBinary);
  EXPECT_EQ(verdict.outcome, Outcome::conditional_pass) << told(verdict);
  EXPECT_EQ(counted(verdict).conditional_pass, 1);
  EXPECT_EQ(counted(verdict).fail, 0);
}

TEST(GuardedVerdict, ANarrowPassIsNotAcceptedUnderABinaryRuleAndIsNoFailure) {
  const Verdict verdict = with_error(9.8, kBinary);
  EXPECT_EQ(verdict.outcome, Outcome::not_accepted) << told(verdict);
  EXPECT_EQ(counted(verdict).not_accepted, 1);
  EXPECT_EQ(counted(verdict).fail, 0);
}

TEST(GuardedVerdict, JustBeyondTheLimitIsAConditionalFailUnderANonBinaryRule) {
  EXPECT_EQ(with_error(10.3, kNonBinary).outcome, Outcome::conditional_fail)
      << told(with_error(10.3, kNonBinary));
  EXPECT_EQ(with_error(10.3, kBinary).outcome, Outcome::fail);
  EXPECT_EQ(with_error(10.3, DecisionRule::simple).outcome, Outcome::fail);
}

TEST(GuardedVerdict, FarBeyondTheLimitFailsByEveryRule) {
  for (const DecisionRule rule : {DecisionRule::simple, kNonBinary, kBinary}) {
    EXPECT_EQ(with_error(25.0, rule).outcome, Outcome::fail);
  }
}

TEST(GuardedVerdict, EveryLineIsCountedOnce) {
  // A guard band as wide as the limits: hardly anything passes without condition.
  const Verdict verdict = with_error(9.8, kNonBinary, 1.0);
  const LineCounts lines = counted(verdict);
  EXPECT_EQ(lines.judged() + lines.not_judged, static_cast<int>(verdict.lines.size()));
  EXPECT_GT(lines.conditional_pass, 0);
  EXPECT_EQ(lines.fail, 0);
  EXPECT_EQ(verdict.outcome, Outcome::conditional_pass);
}

/// What is missing outweighs a pass of any kind, not a failure.
TEST(GuardedVerdict, AConditionalPassIsIncompleteWhereSomethingIsMissing) {
  ProofCase what =
      case_of({changeover("zero", 0.0, 0.0, 20.0), changeover("increasing", 10'000.0, 9.9, 20.0)});
  what.rule = kNonBinary;
  const deck::Deck deck = weighbridge(60'000.0, 20.0, "R76");
  EXPECT_EQ(prove(deck, r76(), what).outcome, Outcome::incomplete);
  what.rule = kBinary;
  EXPECT_EQ(prove(deck, r76(), what).outcome, Outcome::not_accepted);
}

TEST(Decision, BinaryWithGuardBandKnowsNothingBetween) {
  const auto word = [](double error) { return decide(error, 20.0, 3.0, 6.0, kBinary); };
  EXPECT_EQ(word(14.0).conformity, Conformity::pass);
  EXPECT_TRUE(word(14.0).accepted);
  EXPECT_EQ(word(17.0).conformity, Conformity::not_accepted);
  EXPECT_FALSE(word(17.0).accepted);
  EXPECT_EQ(word(20.1).conformity, Conformity::fail);
  // Wrong with "not accepted" is who turns down what conforms.
  EXPECT_NEAR(word(17.0).p_false, word(17.0).p_conforming, 1e-12);
  const Decision conditional = decide(17.0, 20.0, 3.0, 6.0, kNonBinary);
  EXPECT_NEAR(conditional.p_false, 1.0 - conditional.p_conforming, 1e-12);
}

// JCGM 106:2012, 8.2.3: simple acceptance asks for U <= E_max / 3.
TEST(GuardedVerdict, CountsTheLinesWhoseUIsAboveAThirdOfTheLimit) {
  const Verdict verdict = with_error(1.0, DecisionRule::simple);
  int incapable = 0;
  for (const JudgedLine& line : verdict.lines) {
    if (3.0 * line.budget.value().U_kg > line.limit.value().kg) ++incapable;
  }
  EXPECT_EQ(counted(verdict).incapable, incapable);
  EXPECT_GT(incapable, 0);
}

}  // namespace
}  // namespace weighwright::proof
