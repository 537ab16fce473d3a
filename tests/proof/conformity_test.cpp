#include "proof/conformity.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

// outside check: probability of conformance: Zener diode, container, oil; one-sided intervals |
//  JCGM 106:2012, 7.3, 7.4 and table 1
// outside check: simple acceptance, guarded acceptance and rejection | JCGM 106:2012, 8.2.3,
//  8.3.2.3 and 8.3.3.2 (printed examples)
// outside check: risks by guard band, decision in four words | ILAC-G8:09/2019, 4.2.3 and table
//  of guard bands; exact chances by SciPy
// outside check: global risks: resistors, bearings, measuring capability | JCGM 106:2012, 9.5.3,
//  9.5.4 and 9.5.6; more digits by SciPy

namespace weighwright::proof {
namespace {

constexpr double kFar = std::numeric_limits<double>::infinity();

// JCGM 106:2012, 7.3 and 7.4: breakdown of a Zener diode (upper limit), bursting strength of a
// container (lower limit), kinematic viscosity of an oil (both).
TEST(ConformanceProbability, IsThatOfThePrintedExamples) {
  EXPECT_NEAR(p_within(-5.47, 0.05, -kFar, -5.40), 0.92, 0.005);
  EXPECT_NEAR(p_within(509.7, 8.6, 490.0, kFar), 0.99, 0.005);
  EXPECT_NEAR(p_within(13.6, 1.8, 12.5, 16.3), 0.66, 0.005);
}

// JCGM 106:2012, table 1: 0.80, 0.90, 0.95, 0.99, 0.999 at z of 0.84, 1.28, 1.64, 2.33, 3.09.
// Tolerance: half the last digit of z times the normal density there.
TEST(ConformanceProbability, IsThatOfTheTableOfOneSidedIntervals) {
  EXPECT_NEAR(p_within(0.0, 1.0, -kFar, 0.84), 0.80, 0.0015);
  EXPECT_NEAR(p_within(0.0, 1.0, -kFar, 1.28), 0.90, 0.0009);
  EXPECT_NEAR(p_within(0.0, 1.0, -kFar, 1.64), 0.95, 0.0006);
  EXPECT_NEAR(p_within(0.0, 1.0, -kFar, 2.33), 0.99, 0.00015);
  EXPECT_NEAR(p_within(0.0, 1.0, -kFar, 3.09), 0.999, 0.00002);
}

// 6 sigma: less than 1 ppm (ILAC-G8:09/2019, table of guard bands); by SciPy 9.87e-10. It must not
// be lost in a difference of ones.
TEST(ConformanceProbability, KeepsItsDigitsFarOut) {
  EXPECT_NEAR(p_within(6.0, 1.0, -kFar, 0.0), 9.866e-10, 1e-13);
  EXPECT_NEAR(p_within(-6.0, 1.0, 0.0, kFar), 9.866e-10, 1e-13);
}

TEST(ConformanceProbability, WithoutUncertaintyIsYesOrNo) {
  EXPECT_EQ(p_within(1.0, 0.0, -1.0, 1.0), 1.0);
  EXPECT_EQ(p_within(1.1, 0.0, -1.0, 1.0), 0.0);
}

// JCGM 106:2012, 8.3.3.2, example 1: a speed of 107 km/h is the least that shows with 99.9 % that
// 100 km/h was exceeded, u being 2 % of it.
TEST(ConformanceProbability, IsThatOfGuardedRejection) {
  EXPECT_GE(p_within(107.0, 0.02 * 107.0, 100.0, kFar), 0.999);
  EXPECT_LT(p_within(106.0, 0.02 * 106.0, 100.0, kFar), 0.999);
}

// JCGM 106:2012, 8.2.3, example (legal metrology): accepted when abs(e) <= E_max and U <= E_max
// / 3.
TEST(Decision, BySimpleAcceptanceIsThatOfLegalMetrology) {
  const Decision inside = decide(14.0, 20.0, 3.0, 6.0, DecisionRule::simple);
  EXPECT_TRUE(inside.accepted);
  EXPECT_TRUE(inside.capable);
  EXPECT_EQ(inside.conformity, Conformity::pass);
  EXPECT_TRUE(decide(-20.0, 20.0, 3.0, 6.0, DecisionRule::simple).accepted);
  EXPECT_FALSE(decide(20.1, 20.0, 3.0, 6.0, DecisionRule::simple).accepted);
  EXPECT_EQ(decide(20.1, 20.0, 3.0, 6.0, DecisionRule::simple).conformity, Conformity::fail);
  EXPECT_FALSE(decide(14.0, 20.0, 3.4, 6.8, DecisionRule::simple).capable);
  EXPECT_TRUE(decide(14.0, 30.0, 5.0, 10.0, DecisionRule::simple).capable);
}

// SciPy's normal distribution: 0.97725, 0.8413, 0.618 (the last with U = 6.667).
TEST(Decision, SaysHowSureItIs) {
  EXPECT_NEAR(decide(14.0, 20.0, 3.0, 6.0, DecisionRule::simple).p_conforming, 0.97725, 5e-6);
  EXPECT_NEAR(decide(17.0, 20.0, 3.0, 6.0, DecisionRule::simple).p_conforming, 0.8413, 5e-5);
  EXPECT_NEAR(decide(19.0, 20.0, 10.0 / 3, 20.0 / 3, DecisionRule::simple).p_conforming, 0.618,
              5e-4);
  const Decision wrong = decide(22.0, 20.0, 3.0, 6.0, DecisionRule::simple);
  EXPECT_NEAR(wrong.p_false, 1.0 - 0.7475, 5e-5);  // Phi(2/3) = 0.7475, tables
}

// JCGM 106:2012, 8.3.2.3: with w = U an accepted item fails to conform with 2.3 % at most.
TEST(Decision, GuardedByUIsFalseInTwoPercentAtMost) {
  const Decision edge = decide(14.0, 20.0, 3.0, 6.0, DecisionRule::guarded);
  EXPECT_TRUE(edge.accepted);
  EXPECT_DOUBLE_EQ(edge.acceptance_kg, 14.0);
  EXPECT_NEAR(edge.p_false, 0.023, 0.0005);
  EXPECT_FALSE(decide(14.1, 20.0, 3.0, 6.0, DecisionRule::guarded).accepted);
}

// ILAC-G8:09/2019, table of guard bands in U = 2 u: 3 -> below 1 ppm, 1.5 -> below 0.16 %, 1 ->
// below 2.5 %, 0.83 -> below 5 %, 0 -> below 50 %. The exact chances by SciPy.
TEST(Decision, HasTheRisksOfTheTableOfGuardBands) {
  const auto risk = [](double r) {
    return decide(1000.0 - 2.0 * r, 1000.0, 1.0, 2.0, DecisionRule::guarded, r).p_false;
  };
  EXPECT_LT(risk(3.0), 1e-6);
  EXPECT_NEAR(risk(1.5), 0.001350, 5e-7);
  EXPECT_NEAR(risk(1.0), 0.02275, 5e-6);
  EXPECT_NEAR(risk(0.83), 0.04846, 5e-6);
  EXPECT_NEAR(risk(0.0), 0.5, 1e-9);
}

// ILAC-G8:09/2019, 4.2.3: pass, conditional pass, conditional fail, fail.
TEST(Decision, IsToldInFourWords) {
  const auto words = [](double error) {
    return decide(error, 20.0, 3.0, 6.0, DecisionRule::guarded).conformity;
  };
  EXPECT_EQ(words(-14.0), Conformity::pass);
  EXPECT_EQ(words(17.0), Conformity::conditional_pass);
  EXPECT_EQ(words(-20.0), Conformity::conditional_pass);
  EXPECT_EQ(words(26.0), Conformity::conditional_fail);
  EXPECT_EQ(words(26.1), Conformity::fail);
}

// Nothing can be accepted where the guard band is wider than the limit: not even no error at all.
TEST(Decision, AcceptsNothingUnderAGuardBandWiderThanTheLimit) {
  const Decision decision = decide(0.0, 5.0, 3.0, 6.0, DecisionRule::guarded);
  EXPECT_FALSE(decision.accepted);
  EXPECT_LT(decision.acceptance_kg, 0.0);
}

// 0.1 * 3 is more than 0.3 in binary; an error on the limit is within it (limits are inclusive).
TEST(Decision, AcceptsAnErrorOnTheLimitHoweverItWasComputed) {
  EXPECT_TRUE(decide(0.1 * 3, 0.3, 0.0, 0.0, DecisionRule::simple).accepted);
  EXPECT_EQ(decide(0.1 * 3, 0.3, 0.0, 0.0, DecisionRule::simple).p_conforming, 1.0);
  EXPECT_FALSE(decide(0.3000001, 0.3, 0.0, 0.0, DecisionRule::simple).accepted);
}

// JCGM 106:2012, 9.5.3, resistors: u0 0.12, u_m 0.04, limits +-0.2, acceptance +-0.18: consumer's
// risk 1 %, producer's 7 %; by SciPy 0.98783 and 6.9027 %.
TEST(GlobalRisks, AreThoseOfTheResistors) {
  const Risks risks = global_risks(0.0, 0.12, 0.04, -0.2, 0.2, -0.18, 0.18);
  EXPECT_NEAR(risks.consumer, 0.01, 0.005);
  EXPECT_NEAR(risks.producer, 0.07, 0.005);
  EXPECT_NEAR(risks.consumer, 0.0098783, 5e-8);
  EXPECT_NEAR(risks.producer, 0.069027, 5e-7);
}

// JCGM 106:2012, 9.5.4, bearings: radial error motion with the gamma density of shape 4, rate 4,
// upper limit 2, u_m 0.25; r = 0.65 (w = 0.65 * 0.5): 0.1 % and 7.5 %; r = 0 by SciPy.
TEST(GlobalRisks, AreThoseOfTheBearings) {
  const auto density = [](double x) { return 256.0 / 6.0 * x * x * x * std::exp(-4.0 * x); };
  const double accepted = 2.0 - 0.65 * 0.5;
  const Risks guarded = global_risks(density, 0.0, 20.0, 0.25, {-kFar, 2.0, -kFar, accepted});
  EXPECT_NEAR(guarded.consumer, 0.001, 0.0005);
  EXPECT_NEAR(guarded.producer, 0.075, 0.0005);
  const Risks simple = global_risks(density, 0.0, 20.0, 0.25, {-kFar, 2.0, -kFar, 2.0});
  EXPECT_NEAR(simple.consumer, 0.00802, 5e-6);
  EXPECT_NEAR(simple.producer, 0.01744, 5e-6);
}

// JCGM 106:2012, 9.5.6, simple acceptance with items of u0 = T/6: measuring capability index 2 ->
// 0.1 and 1.5 %, 10 -> 0.04 and 0.07 %; more digits by SciPy.
TEST(GlobalRisks, FallWithTheMeasuringCapability) {
  const Risks two = global_risks(0.0, 1.0 / 6, 1.0 / 8, -0.5, 0.5, -0.5, 0.5);
  EXPECT_NEAR(two.consumer, 0.000982, 5e-7);
  EXPECT_NEAR(two.producer, 0.01468, 5e-6);
  const Risks ten = global_risks(0.0, 1.0 / 6, 1.0 / 40, -0.5, 0.5, -0.5, 0.5);
  EXPECT_NEAR(ten.consumer, 0.000408, 5e-7);
  EXPECT_NEAR(ten.producer, 0.000717, 5e-7);
}

TEST(GlobalRisks, OfItemsAllAlikeAreYesOrNo) {
  const Risks good = global_risks(0.0, 0.0, 1.0, -1.0, 1.0, -1.0, 1.0);
  EXPECT_EQ(good.consumer, 0.0);
  EXPECT_NEAR(good.producer, 1.0 - 0.6827, 5e-5);  // JCGM 100:2008, table G.1
  EXPECT_EQ(global_risks(2.0, 0.0, 0.0, -1.0, 1.0, -1.0, 1.0).consumer, 0.0);
}

// A scaled t: within its own expanded uncertainty lies the coverage, whatever the degrees of
// freedom (JCGM 100:2008, table G.2: t for 95.45 % and 4 degrees of freedom is 2.87).
TEST(Decide, ChanceAgreesWithTheCoverageFactor) {
  EXPECT_NEAR(p_within(0.0, 1.0, -2.8693, 2.8693, 4.0), 0.9545, 1e-4);
  EXPECT_NEAR(p_within(0.0, 1.0, -2.0, 2.0, std::numeric_limits<double>::infinity()), 0.9545, 1e-4);
  const Decision few = decide(0.0, 10.0, 5.34, 15.0, DecisionRule::simple, 1.0, 4.0);
  EXPECT_LT(few.p_conforming, 0.88);
  EXPECT_GT(few.p_conforming, 0.85);
}

}  // namespace
}  // namespace weighwright::proof
