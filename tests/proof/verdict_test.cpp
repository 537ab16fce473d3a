#include "proof/verdict.h"

#include <gtest/gtest.h>

#include "verdict_results.h"

// outside check: guarded acceptance and chance of a wrong one | JCGM 106:2012, 7.4 eq. (11) and
//  8.3.2
// outside check: rolling loads in place of a load over each support; zero within 0.25 e | R
//  76-1:2006, 3.6.2.4 (number from memory; Northern Ireland SR 2006/5, Schedule 2, 18(b)) and
//  4.5.2, as quoted by OIML Bulletins 1996/03 and 2001/04
// outside check: uncertainty of a substitute | EURAMET cg-18 v4.0, 7.1.2.6 (from memory,
//  unverified); JCGM 100:2008, F.2.2.1

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)

Verdict prove_r76(const ProofCase& what) {
  return prove(weighbridge(60'000.0, 20.0, "R76"), r76(), what);
}
Verdict prove_h44(const ProofCase& what) {
  return prove(weighbridge(60'000.0, 20.0, "H44"), h44(), what);
}

TEST(Verdict, PassesWhenEverythingThatR76AsksIsSound) {
  const Verdict verdict = prove_r76(case_of(sound_r76()));
  EXPECT_EQ(verdict.outcome, Outcome::pass) << told(verdict);
  EXPECT_TRUE(verdict.missing.empty());
  EXPECT_GT(verdict.p_all, 0.5);
}

TEST(Verdict, PassesWhenEverythingThatHandbook44AsksIsSound) {
  ProofCase what = case_of(sound_h44());
  what.occasion = rules::Occasion::routine;
  const Verdict verdict = prove_h44(what);
  EXPECT_EQ(verdict.outcome, Outcome::pass) << told(verdict);
}

// Two copies of a record were worked on apart: a trim moved on one, loads read on the other.
TEST(Verdict, ResultsThatMayBeOlderThanAnAdjustmentLeaveItIncomplete) {
  ProofCase what = case_of(sound_r76());
  what.order_unknown = {0};
  const Verdict verdict = prove_r76(what);
  EXPECT_EQ(verdict.outcome, Outcome::incomplete) << told(verdict);
  const ProofFinding* const finding = find(verdict, "order_unknown");
  ASSERT_NE(finding, nullptr);
  EXPECT_TRUE(finding->blocks);
  EXPECT_EQ(finding->file, what.results[0].source);
}

// outside check: limits at every line of a complete test | R 76-1:2006, 3.5.1, Table 6, quoted
//  by OIML Bulletin 2013/03
// R 76-1:2006, 3.5.1, Table 6 (class III; quoted by OIML Bulletin 2013/03): 0.5 e to 500 e, 1 e to
// 2000 e, 1.5 e above. The clause stands at every line.
TEST(Verdict, ShowsLimitAndClauseAtEveryLine) {
  const Verdict verdict = prove_r76(case_of(sound_r76()));
  for (const JudgedLine& line : verdict.lines) {
    ASSERT_TRUE(line.limit);
    const double limit = line.load_kg <= 10'000.0 ? 10.0 : line.load_kg <= 40'000.0 ? 20.0 : 30.0;
    EXPECT_DOUBLE_EQ(line.limit->kg, limit) << line.load_kg;
    EXPECT_NE(line.limit->source.clause.find("3.5.1"), std::string::npos);
    EXPECT_FALSE(line.source.clause.empty());
    EXPECT_TRUE(line.budget && line.decision);
  }
}

TEST(Verdict, FailsOnOneErrorBeyondItsLimitAndStillTellsWhatIsMissing) {
  std::vector<ProofReading> rows = sound_r76();
  rows.pop_back();
  rows.push_back(zeroed(changeover("repeatability", 60'000.0, 33.0, 20.0), 1.0, 1.0));
  const Verdict verdict = prove_r76(case_of(rows));
  EXPECT_EQ(verdict.outcome, Outcome::fail);
  EXPECT_TRUE(is_missing(verdict, Check::discrimination, "load")) << told(verdict);
}

TEST(Verdict, AnErrorOnItsLimitIsWithinIt) {
  const Verdict on = prove_r76(part_of(
      {changeover("zero", 0.0, 0.0, 20.0), changeover("increasing", 10'000.0, 10.0, 20.0)}));
  ASSERT_EQ(on.lines.size(), 1U);
  EXPECT_TRUE(on.lines[0].passed);
  const Verdict beyond = prove_r76(part_of(
      {changeover("zero", 0.0, 0.0, 20.0), changeover("increasing", 10'000.0, 10.1, 20.0)}));
  EXPECT_FALSE(beyond.lines[0].passed);
}

// JCGM 106:2012, 8.3.2: guarded acceptance with w = U.
TEST(Verdict, GuardBandTurnsANarrowPassDown) {
  ProofCase what =
      part_of({changeover("zero", 0.0, 0.0, 20.0), changeover("increasing", 10'000.0, 9.5, 20.0)});
  EXPECT_TRUE(prove_r76(what).lines[0].passed);
  what.rule = DecisionRule::guarded;
  const Verdict guarded = prove_r76(what);
  EXPECT_FALSE(guarded.lines[0].passed);
  EXPECT_EQ(guarded.lines[0].decision->conformity, Conformity::conditional_pass);
}

// The probability of a wrong verdict is that of JCGM 106:2012, 7.4 eq. (11), half where an error
// lies on its limit and the other limit is far.
TEST(Verdict, TellsTheChanceOfAWrongAcceptance) {
  const Verdict verdict = prove_r76(part_of(
      {changeover("zero", 0.0, 0.0, 20.0), changeover("increasing", 60'000.0, 30.0, 20.0)}));
  EXPECT_NEAR(verdict.lines[0].decision->p_false, 0.5, 1e-6);
}

TEST(Verdict, RefusesWhatIsOlderThanTheLastSpan) {
  ProofCase what = case_of(sound_r76());
  what.first_fresh = 1;
  const Verdict verdict = prove_r76(what);
  EXPECT_EQ(verdict.outcome, Outcome::refused);
  EXPECT_NE(find(verdict, "stale"), nullptr);
  for (const JudgedLine& line : verdict.lines) EXPECT_FALSE(line.judged);
}

TEST(Verdict, RefusesWhereARequiredTestWasMadeBeforeTheLastSpanOnly) {
  std::vector<ProofReading> old = sound_r76();
  std::vector<ProofReading> fresh(old.begin(), old.end() - 3);  // no discrimination since
  ProofCase what = case_of(old);
  what.results.push_back(table(fresh));
  what.first_fresh = 1;
  EXPECT_EQ(prove_r76(what).outcome, Outcome::refused);
}

TEST(Verdict, TakesFreshResultsWhereOlderOnesStandBeforeThem) {
  ProofCase what = case_of(sound_r76());
  what.results.push_back(table(sound_r76()));
  what.first_fresh = 1;
  const Verdict verdict = prove_r76(what);
  EXPECT_EQ(verdict.outcome, Outcome::pass) << told(verdict);
}

TEST(Verdict, OfNothingIsIncomplete) {
  EXPECT_EQ(prove_r76(ProofCase{}).outcome, Outcome::incomplete);
  EXPECT_EQ(prove_h44(ProofCase{}).outcome, Outcome::incomplete);
}

TEST(Verdict, AsFoundNeedNotBeComplete) {
  ProofCase what =
      part_of({changeover("zero", 0.0, 0.0, 20.0), changeover("increasing", 10'000.0, 8.0, 20.0)});
  what.occasion = rules::Occasion::as_found;
  what.first_fresh = 5;  // older than the last span, as it must be
  const Verdict verdict = prove_r76(what);
  EXPECT_EQ(verdict.outcome, Outcome::pass) << told(verdict);
  EXPECT_TRUE(verdict.missing.empty());
}

// R 76-1:2006, 3.6.2.4: on a deck that is driven over, rolling loads stand in for a load over each
// support; one of the two must be there.
TEST(Verdict, TakesALoadOverEverySupportInsteadOfRollingLoads) {
  std::vector<ProofReading> rows;
  for (const ProofReading& one : sound_r76()) {
    if (one.check != "rolling") rows.push_back(one);
  }
  const Verdict without = prove_r76(case_of(rows));
  EXPECT_EQ(without.outcome, Outcome::incomplete);
  EXPECT_TRUE(is_missing(without, Check::eccentric, "test")) << told(without);
  for (int stand = 0; stand < 6; ++stand) {
    rows.push_back(at_stand(zeroed(changeover("eccentric", 12'000.0, 4.0, 20.0), 1.0, 1.0), stand));
  }
  const Verdict with = prove_r76(case_of(rows));
  EXPECT_EQ(with.outcome, Outcome::pass) << told(with);
  rows.pop_back();
  const Verdict one_short = prove_r76(case_of(rows));
  EXPECT_EQ(one_short.outcome, Outcome::incomplete);
  EXPECT_EQ(one_short.missing.front().where, "3R");
}

// Errors that all lean one way, one beyond half of its limit, are said (common practice, no source;
// HB 44, G-UR.4.1 from memory, unverified).
TEST(Verdict, SaysThatErrorsLean) {
  std::vector<ProofReading> rows = {changeover("zero", 0.0, 0.0, 20.0)};
  for (const double load : {10'000.0, 20'000.0, 40'000.0}) {
    rows.push_back(changeover("increasing", load, 7.0, 20.0));
  }
  EXPECT_EQ(prove_r76(part_of(rows)).leans, 1);
  rows.push_back(changeover("increasing", 60'000.0, -1.0, 20.0));
  EXPECT_EQ(prove_r76(part_of(rows)).leans, 0);
}

TEST(Verdict, WeighsALoadOfUnknownMassSeveralTimesWithoutAnError) {
  std::vector<ProofReading> rows;
  for (const double shows : {31'240.0, 31'240.0, 31'260.0}) {
    ProofReading one = row("repeatability", 0.0, shows);
    one.reading.load_kg.reset();
    one.reading.load_id = "truck";
    one.reading.added_kg = 10.0;
    rows.push_back(zeroed(one, 0.0, 0.0));
  }
  const Verdict verdict = prove_r76(part_of(rows));
  EXPECT_TRUE(verdict.lines.empty());
  ASSERT_EQ(verdict.ranges.size(), 1U);
  EXPECT_DOUBLE_EQ(verdict.ranges[0].range_kg, 20.0);
  EXPECT_DOUBLE_EQ(verdict.ranges[0].limit.kg, 20.0);  // R 76-1, 3.6.1: that of the load
  EXPECT_TRUE(verdict.ranges[0].passed);
}

TEST(Verdict, TellsWhichTermToAttack) {
  const Verdict verdict = prove_r76(case_of(sound_r76()));
  for (const JudgedLine& line : verdict.lines) {
    ASSERT_GE(line.budget->leads, 0);
    for (const Term& term : line.budget->terms) EXPECT_TRUE(std::isfinite(term.u_kg));
  }
}

// A small load on the empty deck moves the display: no look at zero, no load of its own.
TEST(Verdict, DiscriminationNearZeroMayStartFromTheEmptyDeck) {
  std::vector<ProofReading> rows = sound_h44();
  for (ProofReading& one : rows) {
    if (one.check == "discrimination" && *one.reading.load_kg < 500.0) {
      one = small_load(0.0, 0.0, 28.0, 40.0);
    }
  }
  ProofCase what = case_of(rows);
  what.occasion = rules::Occasion::routine;
  const Verdict verdict = prove_h44(what);
  EXPECT_EQ(verdict.outcome, Outcome::pass) << told(verdict);
  EXPECT_EQ(verdict.steps.size(), 2U);
}

// EURAMET cg-18 v4.0, 7.1.2.6 (from memory, unverified): two readings, u(L) = hypot(u(m), sqrt 2
// u(I)). Rounding of 20 kg, 5.77 kg (JCGM 100:2008, F.2.2.1), and an assumed s of 0.3 d: 6 kg.
TEST(Verdict, TellsHowSureASubstituteIs) {
  const Verdict verdict =
      prove_h44(part_of({row("zero", 0.0, 0.0), row("increasing", 10'000.0, 10'000.0),
                         with_material(row("increasing", 0.0, 10'000.0), "s1")}));
  ASSERT_EQ(verdict.substitutes.size(), 1U);
  EXPECT_NEAR(verdict.substitutes[0].u_kg, std::sqrt(2.0 * (100.0 / 3.0 + 36.0)), 0.02);
  EXPECT_FALSE(verdict.s_kg);
  EXPECT_NE(find(verdict, "repeatability_assumed"), nullptr);
}

// R 76-1:2006, 4.5.2 (quoted by OIML Bulletin 1996/03, 2001/04): zero is set within 0.25 e, 5 kg.
TEST(Verdict, FailsWhereZeroIsSetTooFarOff) {
  for (const double off : {5.0, 5.5}) {
    const Verdict verdict = prove_r76(part_of(
        {changeover("zero", 0.0, off, 20.0), changeover("increasing", 20'000.0, off, 20.0)}));
    EXPECT_EQ(verdict.outcome, off > 5.0 ? Outcome::fail : Outcome::pass) << off;
  }
}

// A strain test is the difference of two loaded readings: sqrt 2 times the repeatability.
TEST(Verdict, CountsRepeatabilityTwiceInAStrainTest) {
  ProofReading one = row("strain", 10'000.0, 50'000.0);
  one.start_kg = 40'000.0;
  const Verdict verdict = prove_h44(part_of({one}));
  const double assumed = 0.3 * 20.0;  // of a division, common practice, no source
  EXPECT_NEAR(u_of(*verdict.lines.at(0).budget, "repeatability"), assumed * std::sqrt(2.0), 1e-9);
}

// Two results that are shown a division apart are anything up to two apart.
TEST(Verdict, DoesNotJudgeARangeThatRoundingDecides) {
  std::vector<ProofReading> rows = {changeover("zero", 0.0, 0.0, 20.0)};
  for (const double shows : {30'000.0, 30'020.0, 30'000.0}) {
    rows.push_back(zeroed(row("repeatability", 30'000.0, shows), 0.0, 0.0));
  }
  const Verdict verdict = prove_r76(part_of(rows));
  ASSERT_EQ(verdict.ranges.size(), 1U);
  EXPECT_TRUE(verdict.ranges[0].rounding_decides);
  EXPECT_FALSE(verdict.ranges[0].passed);
  EXPECT_EQ(verdict.outcome, Outcome::incomplete);
}

}  // namespace
}  // namespace weighwright::proof
