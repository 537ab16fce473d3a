// What a verdict asks for by occasion, and what it must not ask for.
#include <gtest/gtest.h>

#include "proof/test_plan.h"
#include "proof/verdict.h"
#include "verdict_results.h"

// outside check: repeatability one series near 0.8 of Max at verification; discrimination not of a
//  digital display at subsequent verification; zero return after half an hour under load | R
//  76-1:2006, A.4.10 and 8.3.3 (from memory, unverified), 3.9.4.2 as quoted by OIML Bulletin
//  1990/04
// outside check: substitution rests on the repeatability of a load near the substitution point |
//  R 76-1:2006, 3.7.3 (from memory, unverified; 1992: a load of about 50 % of Max, OIML Bulletin
//  1994/02)

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)

Verdict prove_r76(const ProofCase& what) {
  return prove(weighbridge(60'000.0, 20.0, "R76"), r76(), what);
}

/// Without rows of one check, and with others in their place.
std::vector<ProofReading> with(std::vector<ProofReading> rows,
                               std::string_view check,
                               const std::vector<ProofReading>& others) {
  std::erase_if(rows, [&](const ProofReading& one) { return one.check == check; });
  rows.insert(rows.begin() + 1, others.begin(), others.end());
  return rows;
}

std::vector<ProofReading> series(double load_kg, int count) {
  std::vector<ProofReading> rows;
  for (int i = 0; i < count; ++i) {
    rows.push_back(zeroed(changeover("repeatability", load_kg, 2.0 + i, 20.0), 1.0, 1.0));
  }
  return rows;
}

TEST(OccasionDemands, OneSeriesNearFourFifthsOfMaxIsEnoughAtVerification) {
  ProofCase what = case_of(with(sound_r76(), "repeatability", series(48'000.0, 3)));
  const Verdict verdict = prove_r76(what);
  EXPECT_EQ(verdict.outcome, Outcome::pass) << told(verdict);
  what.occasion = rules::Occasion::type;
  EXPECT_TRUE(is_missing(prove_r76(what), Check::repeatability, "load"));
}

// Any load that stays the same serves, known or not.
TEST(OccasionDemands, ALorryOfUnknownMassServesForTheSeries) {
  std::vector<ProofReading> rows;
  for (int i = 0; i < 3; ++i) {
    ProofReading one = row("repeatability", 0.0, 47'000.0);
    one.reading.load_kg.reset();
    one.reading.load_id = "lorry";
    rows.push_back(zeroed(added(one, 10.0), 1.0, 1.0));
  }
  const Verdict verdict = prove_r76(case_of(with(sound_r76(), "repeatability", rows)));
  EXPECT_EQ(verdict.outcome, Outcome::pass) << told(verdict);
}

TEST(OccasionDemands, DiscriminationIsNotAskedOfADigitalDisplayAtSubsequentVerification) {
  ProofCase what = case_of(with(sound_r76(), "discrimination", {}));
  what.results.front().readings.back().reading.zero_after_kg = 1.0;
  EXPECT_TRUE(is_missing(prove_r76(what), Check::discrimination, "test"));
  what.occasion = rules::Occasion::adjusted;
  const Verdict verdict = prove_r76(what);
  EXPECT_EQ(verdict.outcome, Outcome::pass) << told(verdict);
  const auto said =
      std::find_if(verdict.not_part.begin(), verdict.not_part.end(),
                   [](const NotPart& one) { return one.check == Check::discrimination; });
  ASSERT_NE(said, verdict.not_part.end());
  EXPECT_EQ(said->why, NotPart::Why::not_of_a_digital_display);
  EXPECT_FALSE(said->source.clause.empty());
}

/// The last load came off and zero went by 16 kg; the limit of 0.5 e is 10 kg.
std::vector<ProofReading> moved_zero(std::int64_t minutes) {
  std::vector<ProofReading> rows = sound_r76();
  rows.back().reading.zero_after_kg.reset();
  rows.back().time_s = 36'000;
  ProofReading zero = changeover("zero", 0.0, 19.0, 20.0);
  zero.time_s = 36'000 + 60 * minutes;
  rows.push_back(zero);
  for (ProofReading& one : rows) {
    if (!one.time_s) one.time_s = 36'000;
  }
  return rows;
}

TEST(OccasionDemands, ZeroReturnIsToldAndNotFailedAfterLessThanHalfAnHour) {
  const Verdict verdict = prove_r76(case_of(moved_zero(10)));
  EXPECT_EQ(verdict.outcome, Outcome::pass) << told(verdict);
  ASSERT_NE(find(verdict, "zero_moved"), nullptr);
  EXPECT_FALSE(find(verdict, "zero_moved")->blocks);
  EXPECT_TRUE(verdict.zeros.back().told_only);
}

TEST(OccasionDemands, ZeroReturnFailsAfterHalfAnHourUnderLoad) {
  const Verdict verdict = prove_r76(case_of(moved_zero(35)));
  EXPECT_EQ(verdict.outcome, Outcome::fail) << told(verdict);
  EXPECT_FALSE(verdict.zeros.back().told_only);
  ASSERT_TRUE(verdict.zeros.back().minutes);
  EXPECT_GE(*verdict.zeros.back().minutes, 35.0);
}

// HB 44, N.1.9 (from memory, unverified): after removal of any test load.
TEST(OccasionDemands, ZeroReturnFailsAfterAnyLoadByTheHandbook) {
  std::vector<ProofReading> rows = sound_h44();
  rows.back().reading.zero_after_kg = 40.0;
  ProofCase what = case_of(rows);
  what.occasion = rules::Occasion::routine;
  EXPECT_EQ(prove(weighbridge(60'000.0, 20.0, "H44"), h44(), what).outcome, Outcome::fail);
}

TEST(OccasionDemands, TheHandbookAsksForNoRepeatedWeighing) {
  ProofCase what = case_of(with(sound_h44(), "repeatability", {}));
  what.occasion = rules::Occasion::routine;
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "H44"), h44(), what);
  EXPECT_EQ(verdict.outcome, Outcome::pass) << told(verdict);
}

// 15 t of weights on 60 t want a repeatability of 0.2 e or less, shown near 15 t.
std::vector<ProofReading> by_substitution(const std::vector<ProofReading>& repeats) {
  std::vector<ProofReading> rows{changeover("zero", 0.0, 1.0, 20.0)};
  rows.insert(rows.end(), repeats.begin(), repeats.end());
  rows.push_back(changeover("increasing", 15'000.0, 1.0, 20.0));
  ProofReading instead = with_material(changeover("increasing", 0.0, 15'001.0, 20.0), "S1");
  instead.reading.load_kg = 0.0;
  rows.push_back(instead);
  rows.push_back(with_material(changeover("increasing", 15'000.0, 15'002.0, 20.0), "S1"));
  rows.back().weights = names_of(15'000.0);
  return rows;
}

bool asks_near(const Verdict& verdict, double load_kg) {
  return std::any_of(verdict.missing.begin(), verdict.missing.end(), [&](const Missing& one) {
    return one.check == Check::repeatability && one.code == "repeats" &&
           std::abs(one.load_kg - load_kg) < 1.0;
  });
}

TEST(OccasionDemands, SubstitutionHasARepeatabilityOfItsOwn) {
  const auto spread = [](double load_kg, double range_kg) {
    std::vector<ProofReading> rows;
    for (const double error : {0.0, range_kg / 2.0, range_kg}) {
      rows.push_back(zeroed(changeover("repeatability", load_kg, error, 20.0), 1.0, 1.0));
    }
    return rows;
  };
  EXPECT_TRUE(asks_near(prove_r76(case_of(by_substitution({}))), 15'000.0));
  const Verdict near = prove_r76(case_of(by_substitution(spread(15'000.0, 3.0))));
  EXPECT_FALSE(asks_near(near, 15'000.0)) << told(near);
  EXPECT_FALSE(is_missing(near, Check::increasing, "standards")) << told(near);
  // A worse repeatability of a load far above says nothing of the one that is leaned on.
  std::vector<ProofReading> both = spread(48'000.0, 9.0);
  const std::vector<ProofReading> low = spread(15'000.0, 3.0);
  both.insert(both.end(), low.begin(), low.end());
  EXPECT_FALSE(
      is_missing(prove_r76(case_of(by_substitution(both))), Check::increasing, "standards"));
  // Two weighings are none of three.
  std::vector<ProofReading> two = low;
  two.pop_back();
  EXPECT_TRUE(asks_near(prove_r76(case_of(by_substitution(two))), 15'000.0));
}

rules::Rulebook variant(const std::string& lines) {
  auto read = rules::read_rulebook(
      "format = 1\ncode = \"LAND\"\nbase = \"R76\"\ntitle = \"Decree\"\nedition = \"2020\"\nremark "
      "= \"invented\"\n" +
          lines,
      "land.toml");
  for (const units::Diagnostic& fault : read.faults) ADD_FAILURE() << units::print(fault);
  return std::move(read.rulebook).value_or(rules::Rulebook{});
}

TEST(OccasionDemands, AVariantMayAskForNoDecreasingLoadsWithSubstitution) {
  const rules::Rulebook land = variant(
      "[decreasing]\nwith_substitution = { asked = false, clause = \"art. 7\", basis = \"read\" "
      "}\n");
  std::vector<ProofReading> rows = by_substitution(series(15'000.0, 3));
  // A way down that leaves most of the way up out.
  rows.push_back(with_material(changeover("decreasing", 5'000.0, 15'003.0, 20.0), "S1"));
  const deck::Deck deck = weighbridge(60'000.0, 20.0, "R76");
  EXPECT_TRUE(is_missing(prove(deck, r76(), case_of(rows)), Check::decreasing, "decreasing_loads"));
  EXPECT_FALSE(is_missing(prove(deck, land, case_of(rows)), Check::decreasing, "decreasing_loads"));
}

TEST(OccasionDemands, AVariantMayDropTheReturnOfZero) {
  const rules::Rulebook land =
      variant("[zero]\nreturn = { dropped = true, clause = \"art. 7\", basis = \"read\" }\n");
  const Verdict verdict = prove(weighbridge(60'000.0, 20.0, "R76"), land, case_of(moved_zero(35)));
  EXPECT_EQ(verdict.outcome, Outcome::pass) << told(verdict);
  EXPECT_EQ(find(verdict, "zero_moved"), nullptr);
}

}  // namespace
}  // namespace weighwright::proof
