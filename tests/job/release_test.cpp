/// What a release for load rests on, and what it lacks.
///
/// Outside  hours and strengths are invented. 1 psi = 6.894757 kPa: NIST SP 811 (2008), B.8.

#include "job/release.h"

#include <gtest/gtest.h>

#include "job/practice_remark.h"
#include "pen.h"

namespace weighwright::job {
namespace {

using testing::Pen;
using testing::tick;
using testing::visit;

const std::string kPit = "00000000000000aa";
constexpr std::int64_t kHour_ms = 3'600'000;

/// A new deck whose plates were grouted. The tick is recorded at 2025-11-24T16:01 UTC.
SiteState grouted(const std::string& typed_at = "", const std::string& remark = "") {
  Pen pen;
  record::Draft began = visit("install");
  if (!remark.empty()) began.fields.emplace_back("remark", remark);
  pen.write(kPit, began);
  record::Draft grout = tick("grouted");
  if (!typed_at.empty()) grout.fields.emplace_back("typed_at", typed_at);
  pen.write(kPit, grout);
  return site_state_of(pen.all());
}

/// So many hours after the tick was recorded.
record::Stamp after(const SiteState& state, double hours) {
  record::Stamp stamp = state.history.lines.back().entry.stamp;
  stamp.time_ms += static_cast<std::int64_t>(hours * static_cast<double>(kHour_ms));
  return stamp;
}

record::Fields by_time(const std::string& time = "24 h") {
  return {{"by", "A. Tester"},
          {"foundation", "grouted"},
          {"grounds", "maker_time"},
          {"time", time},
          {"temperature", "12 degC"}};
}

record::Fields by_cube(const std::string& strength, const std::string& age) {
  return {{"by", "A. Tester"},    {"foundation", "grouted"}, {"grounds", "cube"},
          {"strength", strength}, {"needed", "35 MPa"},      {"age", age}};
}

record::Fields with(record::Fields fields, const std::string& name, const std::string& value) {
  fields.emplace_back(name, value);
  return fields;
}

TEST(Release, FitsFromTheMomentOnThatTheMakersTimeIsOver) {
  const SiteState state = grouted();
  EXPECT_EQ(release_lacks(state, by_time(), after(state, 23.99)).size(), 1U);
  EXPECT_TRUE(release_lacks(state, by_time(), after(state, 24.0)).empty());
  EXPECT_TRUE(release_lacks(state, by_time("1 d"), after(state, 24.0)).empty());
  EXPECT_FALSE(release_lacks(state, by_time("24"), after(state, 99.0)).empty()) << "24 of what?";
  EXPECT_FALSE(release_lacks(state, by_time("0 h"), after(state, 99.0)).empty());
}

TEST(Release, SaysUntilWhenItIsNotOver) {
  const SiteState state = grouted();
  const auto lacks = release_lacks(state, by_time("2 d"), after(state, 1.0));
  ASSERT_EQ(lacks.size(), 1U);
  EXPECT_EQ(lacks.front().right, "not before 2025-11-26 16:01; or other grounds");
}

TEST(Release, TimeRunsFromWhenGroutWasPlacedWhereSomebodySaidIt) {
  const SiteState state = grouted("2025-11-24T10:00:00+00:00");
  EXPECT_TRUE(release_lacks(state, by_time(), after(state, 18.0)).empty()) << "typed at ten";
  const record::Fields late = with(by_time(), "grouted_at", "2025-11-24T15:00");
  EXPECT_FALSE(release_lacks(state, late, after(state, 18.0)).empty());
  EXPECT_TRUE(release_lacks(state, late, after(state, 23.0)).empty());
}

TEST(Release, WhatWasTypedTooEarlyIsTooEarlyWheneverItIsSent) {
  const SiteState state = grouted();
  const record::Fields queued = with(by_time(), "typed_at", "2025-11-24T17:00:00+00:00");
  EXPECT_FALSE(release_lacks(state, queued, after(state, 48.0)).empty());
}

TEST(Release, ACubeIsStrongEnoughAndNoOlderThanTheGrout) {
  const SiteState state = grouted();
  EXPECT_TRUE(release_lacks(state, by_cube("35 MPa", "48 h"), after(state, 48.0)).empty());
  EXPECT_FALSE(release_lacks(state, by_cube("34.9 MPa", "48 h"), after(state, 48.0)).empty());
  EXPECT_FALSE(release_lacks(state, by_cube("35 N/mm2", "3 d"), after(state, 48.0)).empty());
  // 5077 psi are 35.005 MPa, 5076 psi 34.998 MPa.
  EXPECT_TRUE(release_lacks(state, by_cube("5077 psi", "48 h"), after(state, 48.0)).empty());
  EXPECT_FALSE(release_lacks(state, by_cube("5076 psi", "48 h"), after(state, 48.0)).empty());
}

TEST(Release, OnAPracticeSiteTimeIsPlayed) {
  const SiteState state = grouted("", kPracticeRemark);
  EXPECT_TRUE(release_lacks(state, by_time(), after(state, 0.0)).empty());
}

TEST(Release, TellsEverythingThatItLacksAtOnce) {
  const SiteState state = grouted();
  const auto lacks =
      release_lacks(state, {{"foundation", "bolted"}, {"grounds", "engineer"}}, after(state, 1.0));
  EXPECT_EQ(lacks.size(), 3U) << "who; grout under a bolted deck; what the engineer found";
}

}  // namespace
}  // namespace weighwright::job
