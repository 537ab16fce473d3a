// On which day a test was performed, and which weights were valid then. Deck, weights and readings
// are our own invention.
//
// outside check: date of performance is that of the results | ISO/IEC 17025:2017, 7.8.2.1 i (as
//  quoted in public digests); days by Python's datetime
#include <gtest/gtest.h>

#include "record/result_days.h"
#include "verdict_results.h"

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)

constexpr std::int64_t kDay_s = 86'400;

/// The sound set, every line taken on that day; it was typed in on the day of the case.
std::vector<ProofReading> taken_on(std::int64_t day) {
  std::vector<ProofReading> rows = sound_r76();
  std::int64_t second = day * kDay_s + 8 * 3600;
  for (ProofReading& one : rows) one.time_s = second += 60;
  return rows;
}

Verdict prove_r76(const ProofCase& what) {
  return prove(weighbridge(60'000.0, 20.0, "R76"), r76(), what);
}

TEST(DaysOfATest, WeightsAreValidOrNotOnTheDayOfTheResults) {
  ProofCase what = case_of(taken_on(kDay - 10));
  what.day = kDay;  // typed ten days later
  for (record::Weight& weight : what.weights) weight.expires_day = kDay - 5;
  const Verdict valid = prove_r76(what);
  EXPECT_EQ(find(valid, "expired"), nullptr) << told(valid);
  EXPECT_EQ(valid.outcome, Outcome::pass) << told(valid);
  for (record::Weight& weight : what.weights) weight.expires_day = kDay - 11;
  EXPECT_NE(find(prove_r76(what), "expired"), nullptr);
}

TEST(DaysOfATest, AreThoseOfTheResultsAndElseTheOneThatIsSaid) {
  ProofCase what = case_of(taken_on(kDay - 10));
  EXPECT_EQ(prove_r76(what).days, (std::vector<std::int64_t>{kDay - 10}));
  EXPECT_EQ(prove_r76(case_of(sound_r76())).days, (std::vector<std::int64_t>{kDay}));
}

TEST(DaysOfATest, OfDifferentYearsAreTold) {
  // kDay = 20 400 is 2025-11-08 (Python's datetime); 100 days later it is 2026.
  std::vector<ProofReading> rows = taken_on(kDay);
  for (std::size_t i = 10; i < rows.size(); ++i) *rows[i].time_s += 100 * kDay_s;
  const Verdict verdict = prove_r76(case_of(rows));
  const ProofFinding* const finding = find(verdict, "years_apart");
  ASSERT_NE(finding, nullptr) << told(verdict);
  EXPECT_NE(finding->what.find("2025-11-08"), std::string::npos) << finding->what;
  EXPECT_NE(finding->what.find("2026-02-16"), std::string::npos) << finding->what;
  EXPECT_EQ(find(prove_r76(case_of(taken_on(kDay))), "years_apart"), nullptr);
}

TEST(DaysOfATest, ClocksOfDifferentOffsetsAreComparedAtGreenwich) {
  std::vector<ProofReading> rows = taken_on(kDay);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    rows[i].offset_min = i < 10 ? 120 : 60;  // the clock was put back an hour
    if (i >= 10) *rows[i].time_s -= 3600;
  }
  EXPECT_EQ(find(prove_r76(case_of(rows)), "out_of_order"), nullptr);
  for (ProofReading& one : rows) one.offset_min.reset();
  EXPECT_NE(find(prove_r76(case_of(rows)), "out_of_order"), nullptr);
}

TEST(DaysOfATest, ALineWithoutATimeHasTheDayOfTheOnesBesideIt) {
  record::ProofSet set = table(sound_r76());
  set.readings[3].time_s = (kDay + 1) * kDay_s + 10;
  set.readings[6].time_s = (kDay + 2) * kDay_s + 10;
  record::give_days(set, kDay);
  EXPECT_EQ(set.readings[0].day, kDay + 1);
  EXPECT_EQ(set.readings[5].day, kDay + 1);
  EXPECT_EQ(set.readings[8].day, kDay + 2);
  record::ProofSet none = table(sound_r76());
  record::give_days(none, kDay);
  EXPECT_EQ(none.readings[8].day, kDay);
}

}  // namespace
}  // namespace weighwright::proof
