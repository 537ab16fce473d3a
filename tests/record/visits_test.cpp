/// Zero over time and looks: files to values.

#include <gtest/gtest.h>

#include <string>

#include "record/csv.h"
#include "record/looks.h"

// outside check: seconds of calendar dates | 10^9 s and 2^31 - 1 s after 1970-01-01 (from memory,
//  unverified)

namespace weighwright::record {
namespace {

ParsedMeasurement parse(const std::string& text) {
  return parse_measurement(text, "file.csv", 4, 2);
}

std::string first_fault(const std::string& text) {
  const ParsedMeasurement parsed = parse(text);
  return parsed.faults.empty() ? "" : units::print(parsed.faults.front());
}

std::int64_t seconds(const std::string& time) {
  const ParsedMeasurement parsed = parse("zero_kg,time\n0," + time + "\n");
  return std::get<ZeroSet>(parsed.value.value()).readings.front().time_s.value();
}

TEST(Zeros, AreReadWithWeatherAndWhatWentBefore) {
  const ParsedMeasurement parsed = parse(
      "zero_kg,time,temp_degC,rain,after\n"
      "0,2026-11-25T08:00,4.5,no,zeroed\n"
      "-20,2026-11-25 14:30:10,12,yes,pass 2-1\n");
  ASSERT_TRUE(parsed.faults.empty()) << units::print(parsed.faults.front());
  const auto& set = std::get<ZeroSet>(*parsed.value);
  ASSERT_EQ(set.readings.size(), 2U);
  EXPECT_EQ(set.readings[0].after, ZeroReading::After::zeroed);
  EXPECT_EQ(set.readings[1].after, ZeroReading::After::pass_2_to_1);
  EXPECT_EQ(set.readings[1].zero_kg, -20.0);
  EXPECT_EQ(set.readings[1].temp_degC, 12.0);
  EXPECT_EQ(set.readings[1].rain, true);
  EXPECT_EQ(*set.readings[1].time_s - *set.readings[0].time_s, 6 * 3600 + 30 * 60 + 10);
}

TEST(Zeros, TakeTheStepOfTheDisplayWhereItIsGiven) {
  const ParsedMeasurement parsed = parse("zero_kg,resolution\n20,20\n20,\n");
  const auto& set = std::get<ZeroSet>(parsed.value.value());
  EXPECT_EQ(set.readings[0].last_digit_kg, 20.0);
  EXPECT_EQ(set.readings[1].last_digit_kg, 1.0);
  EXPECT_NE(first_fault("zero_kg,resolution\n20,0\n"), "");
}

TEST(Zeros, TakeKilogramsOrPounds) {
  const ParsedMeasurement parsed = parse("zero_lb\n20\n");
  const auto& set = std::get<ZeroSet>(parsed.value.value());
  EXPECT_TRUE(set.us);
  // NIST SP 811 (2008), B.8: 1 lb = 0.453 592 37 kg exactly.
  EXPECT_DOUBLE_EQ(set.readings.front().zero_kg, 20 * 0.45359237);
}

/// Seconds since 1970 of moments that POSIX systems are known by (from memory, unverified): 10^9 s
/// on 2001-09-09 at 01:46:40, 2^31 - 1 s on 2038-01-19 at 03:14:07; IEEE Std 1003.1-2017, 4.16:
/// 86400 s a day, 1970-01-01T00:00:00 is 0.
TEST(Zeros, CountSecondsOfTheCalendar) {
  EXPECT_EQ(seconds("1970-01-01T00:00"), 0);
  EXPECT_EQ(seconds("2001-09-09T01:46:40"), 1'000'000'000);
  EXPECT_EQ(seconds("2038-01-19T03:14:07"), 2'147'483'647);
  EXPECT_EQ(seconds("2024-03-01T00:00") - seconds("2024-02-29T00:00"), 86400);
  EXPECT_EQ(seconds("1969-12-31T23:59:59"), -1);
}

TEST(Zeros, TellWhatCanNotBe) {
  EXPECT_EQ(first_fault("zero_kg,time\n0,2026-02-29T08:00\n"),
            "file.csv:2:3: \"2026-02-29T08:00\" is no time; a time as 2026-11-25T18:30 (seconds "
            "may follow)");
  EXPECT_EQ(first_fault("zero_kg,rain\n0,a bit\n"),
            "file.csv:2:3: \"a bit\" says nothing of rain; yes or no");
  EXPECT_EQ(first_fault("zero_kg,after\n0,lunch\n"),
            "file.csv:2:3: \"lunch\" is nothing that is told apart here; nothing, pass 1-2 (a "
            "loaded vehicle from end 1 to end 2), pass 2-1, rocked or zeroed");
  EXPECT_EQ(first_fault("zero_kg,zero_lb\n0,0\n"),
            "file.csv:1:1: mixed units: zero_kg beside zero_lb; keep one of zero_kg or zero_lb");
  EXPECT_NE(first_fault("zero_kg\nmuch\n"), "");
}

TEST(Looks, AreReadWithTheirPlaces) {
  const ParsedMeasurement parsed = parse(
      "look,where,found\nbearing_gap,bearing2R,yes\nwet,box,no\nend_touches,end2,yes\n"
      "tracking_on,,no\nplate_moves,4L,yes\n");
  ASSERT_TRUE(parsed.faults.empty()) << units::print(parsed.faults.front());
  const auto& set = std::get<LookSet>(*parsed.value);
  ASSERT_EQ(set.looks.size(), 5U);
  EXPECT_EQ(set.looks[0].where, "bearing2R");
  EXPECT_TRUE(set.looks[0].found);
  EXPECT_FALSE(set.looks[3].found);
  EXPECT_EQ(set.looks[4].code, "plate_moves");
}

TEST(Looks, TellWhatCanNotBe) {
  EXPECT_EQ(first_fault("look,where,found\nplate_move,2R,yes\n"),
            "file.csv:2:1: there is no look \"plate_move\"; did you mean plate_moves?");
  EXPECT_EQ(first_fault("look,where,found\nplate_moves,9R,yes\n"),
            "file.csv:2:13: \"9R\" is no place for plate_moves; a stand: 1L, 1R, ... 4L, 4R");
  EXPECT_EQ(first_fault("look,where,found\nbearing_gap,bearing3R,yes\n"),
            "file.csv:2:13: \"bearing3R\" is no place for bearing_gap; bearing1L, bearing1R, ...: "
            "joint and side");
  EXPECT_EQ(first_fault("look,where,found\ntracking_on,,maybe\n"),
            "file.csv:2:14: \"maybe\" is no answer; yes or no: is zero tracking or a filter of the "
            "indicator on?");
}

TEST(Looks, EachSayWhatToLookFor) {
  for (const LookRule& rule : looks()) {
    EXPECT_FALSE(rule.says.empty()) << rule.code;
    EXPECT_EQ(rule.says.back(), '?') << rule.code;
    EXPECT_EQ(find_look(rule.code), &rule);
  }
}

}  // namespace
}  // namespace weighwright::record
