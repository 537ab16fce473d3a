#include "record/csv.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <string>
#include <variant>

namespace weighwright::record {
namespace {

using units::StandIndex;

// What is expected here follows from the format that csv.h states; there is no outside source for
// it.

template <class Set>
Set read(const std::string& text, int sections = 2, int joints = 1) {
  const ParsedMeasurement parsed = parse_measurement(text, "file.csv", sections, joints);
  for (const units::Diagnostic& fault : parsed.faults) ADD_FAILURE() << units::print(fault);
  if (!parsed.value) return {};
  const Set* const set = std::get_if<Set>(&*parsed.value);
  if (set == nullptr) {
    ADD_FAILURE() << "another kind of file";
    return {};
  }
  return *set;
}

TEST(Readings, AreReadInStandOrderWhateverTheOrderInTheFile) {
  const auto set = read<ReadingSet>("stand,mV\n2R,2.0\n1L,1.09\n2L,2.00\n1R,-1.1\n");
  EXPECT_EQ(set.unit, ReadingUnit::mV);
  EXPECT_EQ(set.source, "file.csv");
  ASSERT_EQ(set.stands.size(), 4U);
  for (int i = 0; i < 4; ++i)
    EXPECT_EQ(set.stands.at(static_cast<std::size_t>(i)).stand, StandIndex{i});
  EXPECT_EQ(set.stands[0].value, 1.09);
  EXPECT_EQ(set.stands[1].value, -1.1);
  EXPECT_EQ(set.stands[0].line, 3);
}

TEST(Readings, TakeTheirResolutionFromTheDigitsTyped) {
  const auto set = read<ReadingSet>("stand,mV\n1L,1.10\n1R,1\n2L,2.5e-3\n2R,1e2\n");
  EXPECT_EQ(set.stands[0].resolution, 0.01);
  EXPECT_EQ(set.stands[1].resolution, 1.0);
  EXPECT_EQ(set.stands[2].resolution, 1e-4);
  EXPECT_EQ(set.stands[3].resolution, 100.0);
}

TEST(Readings, AcceptEveryUnitAndOptionalColumn) {
  const auto ratio = read<ReadingSet>(
      "temp,stand,mV_per_V,no_load_mV_per_V,excitation_V,gap_mm,resolution,time,noise\n"
      "12,1L,0.109,0.010,9.98,,0.002,08:10,0.0004\n,1R,0.1,,,1.5,,,\n",
      1, 0);
  EXPECT_EQ(ratio.unit, ReadingUnit::mV_per_V);
  EXPECT_EQ(ratio.stands[0].no_load, 0.010);
  EXPECT_EQ(ratio.stands[0].excitation_V, 9.98);
  EXPECT_EQ(ratio.stands[0].resolution, 0.002);
  EXPECT_EQ(ratio.stands[0].noise, 0.0004);
  EXPECT_FALSE(ratio.stands[1].noise.has_value());
  EXPECT_FALSE(ratio.stands[0].gap_mm.has_value());
  EXPECT_EQ(ratio.stands[1].gap_mm, 1.5);
  EXPECT_FALSE(ratio.stands[1].no_load.has_value());
  EXPECT_EQ(read<ReadingSet>("stand,counts\n1L,21000\n1R,22000\n", 1, 0).unit, ReadingUnit::counts);
  EXPECT_EQ(read<ReadingSet>("stand,kg,no_load\n1L,1,0\n1R,2,0\n", 1, 0).unit, ReadingUnit::kg);
  EXPECT_EQ(read<ReadingSet>("stand,lb\n1L,1\n1R,2\n", 1, 0).unit, ReadingUnit::lb);
}

TEST(Csv, WorksWithByteOrderMarkCrLfBlankLinesCommentsAndQuotes) {
  const auto set = read<ReadingSet>(
      "\xEF\xBB\xBF# practice data\r\n\r\n\"stand\" , \"mV\"\r\n1L,\" 1.09 \"\r\n \r\n1R,+2\r\n# "
      "end",
      1, 0);
  EXPECT_EQ(set.stands[0].value, 1.09);
  EXPECT_EQ(set.stands[1].value, 2.0);
  EXPECT_EQ(set.stands[1].line, 6);
  EXPECT_EQ(read<ReadingSet>("stand,mV\r1L,1\r1R,2\r", 1, 0).stands.size(), 2U);
}

TEST(Turns, AreReadWithTouchAndWithShims) {
  const auto set = read<TurnSet>("stand,turns,until\n2R,0.75,\n1L,-0.5,touch\n");
  ASSERT_EQ(set.stands.size(), 2U);
  EXPECT_EQ(set.stands[0].stand, (StandIndex{3}));
  EXPECT_EQ(set.stands[0].turns, 0.75);
  EXPECT_FALSE(set.stands[0].until_touch);
  EXPECT_TRUE(set.stands[1].until_touch);
  const auto shims = read<TurnSet>("stand,shim_mm\n1L,-1.5\n");
  EXPECT_EQ(shims.stands[0].shim_mm, -1.5);
  const auto both = read<TurnSet>("stand,turns,shim_mm\n1L,,1\n1R,0.5,\n");
  EXPECT_EQ(both.stands[0].shim_mm, 1.0);
  EXPECT_EQ(both.stands[1].turns, 0.5);
}

TEST(Heights, LeaveOutStandsThatWereNotSurveyed) {
  const auto set = read<HeightSet>("height_mm,stand\n-2.5,1R\n1,2L\n");
  ASSERT_EQ(set.height_mm.size(), 4U);
  EXPECT_FALSE(set.height_mm[0].has_value());
  EXPECT_EQ(set.height_mm[1], -2.5);
  EXPECT_EQ(set.height_mm[2], 1.0);
}

TEST(Gaps, TellStandsFromBearings) {
  const auto set = read<GapSet>("support,gap_mm\n2L,1.2\nbearing1R,0\n");
  ASSERT_EQ(set.gaps.size(), 2U);
  EXPECT_FALSE(set.gaps[0].place.is_bearing);
  EXPECT_EQ(set.gaps[0].place.stand, (StandIndex{2}));
  EXPECT_TRUE(set.gaps[1].place.is_bearing);
  EXPECT_EQ(set.gaps[1].place.joint, 0);
  EXPECT_EQ(set.gaps[1].place.side, units::Side::right);
  EXPECT_EQ(set.gaps[1].gap_mm, 0.0);
}

TEST(Map, KeepsWhichReadingMoved) {
  const auto set = read<MapSet>("loaded,moved\n1L,1R\n1R,1L\n");
  ASSERT_EQ(set.loaded_and_moved.size(), 2U);
  EXPECT_EQ(set.loaded_and_moved[0].first, (StandIndex{0}));
  EXPECT_EQ(set.loaded_and_moved[0].second, (StandIndex{1}));
}

RC_GTEST_PROP(Csv, ReadsAnyTextWithoutHarm, (const std::string& text)) {
  for (const char* const header : {"", "stand,mV\n", "stand,turns\n", "support,gap_mm\n"}) {
    const ParsedMeasurement parsed = parse_measurement(header + text, "any.csv", 2, 1);
    RC_ASSERT(parsed.value.has_value() == parsed.faults.empty());
  }
}

}  // namespace
}  // namespace weighwright::record
