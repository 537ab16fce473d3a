// Class, interval, ranges, capacity and CLC.
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "rules/limits.h"
#include "scales.h"

// outside check: number and size of intervals by class, several ranges | R 76-1:2006, 3.2 table
//  3, 3.3 table 2 and 3.4, as quoted by French decree 91-330, Annex I; HB 44, 2.20, table 3,
//  reprint of 2014
// outside check: capacity by CLC and sections: 122.5 t, 150 000 lb | HB 44, 2.20, S.6.1 (number
//  from memory, unverified), formula by a trade page

namespace weighwright::rules {
namespace {

using testing::codes_of;
using testing::h44;
using testing::in_pounds;
using testing::kLb;
using testing::metric;
using testing::r76;

using Codes = std::vector<std::string>;

Scale with_clc(Scale scale, double clc_kg, int sections) {
  scale.clc_kg = clc_kg;
  scale.sections = sections;
  return scale;
}

// Handbook 44, Table 3 (reprint of 2014): III L from 2 kg, 2000 to 10 000 intervals. R 76-1:2006,
// Table 3 (French decree 91-330): III from 5 g, 500 to 10 000. 60 t.
TEST(ClassFaults, JudgeTheNumberOfIntervals) {
  for (const double d_kg : {10.0, 20.0})
    EXPECT_EQ(codes_of(class_faults(h44(), with_clc(metric("III L", 60'000, d_kg), 35'000, 4))),
              Codes{});
  EXPECT_EQ(codes_of(class_faults(h44(), with_clc(metric("III L", 60'000, 5), 35'000, 4))),
            Codes{"too_many_intervals"});
  EXPECT_EQ(codes_of(class_faults(h44(), with_clc(metric("III L", 60'000, 50), 35'000, 4))),
            Codes{"too_few_intervals"});
  for (const double e_kg : {10.0, 20.0, 50.0, 100.0})
    EXPECT_EQ(codes_of(class_faults(r76(), metric("III", 60'000, e_kg))), Codes{});
  EXPECT_EQ(codes_of(class_faults(r76(), metric("III", 60'000, 5))), Codes{"too_many_intervals"});
  // 500 and 2000 intervals are allowed, a kilogram less is not.
  EXPECT_EQ(codes_of(class_faults(r76(), metric("III", 10'000, 20))), Codes{});
  EXPECT_EQ(codes_of(class_faults(r76(), metric("III", 9'999, 20))), Codes{"too_few_intervals"});
  EXPECT_EQ(codes_of(class_faults(h44(), with_clc(metric("III L", 20'000, 10), 35'000, 4))),
            Codes{});
  // 10 000 intervals are allowed, one kilogram more is not.
  EXPECT_EQ(codes_of(class_faults(r76(), metric("III", 50'000, 5))), Codes{});
  EXPECT_EQ(codes_of(class_faults(r76(), metric("III", 50'001, 5))), Codes{"too_many_intervals"});
}

// Handbook 44, Table 3: III L d of 2 kg, 5 lb or more.
TEST(ClassFaults, JudgeTheIntervalByTheColumnOfTheScale) {
  EXPECT_EQ(codes_of(class_faults(h44(), with_clc(metric("III L", 5'000, 1), 5'000, 2))),
            Codes{"interval_too_small"});
  EXPECT_EQ(codes_of(class_faults(h44(), with_clc(in_pounds("III L", 40'000, 5), 20'000, 3))),
            Codes{});
  EXPECT_EQ(codes_of(class_faults(h44(), with_clc(in_pounds("III L", 10'000, 2), 20'000, 3))),
            Codes{"interval_too_small"});
}

// R 76-1:2006 (French decree 91-330, Annex I): e is 1, 2 or 5 times a power of ten.
TEST(ClassFaults, WantRoundIntervals) {
  const auto faults = class_faults(r76(), metric("III", 60'000, 15));
  ASSERT_EQ(codes_of(faults), Codes{"interval_not_round"});
  EXPECT_EQ(faults.front().what, "the interval 15 kg is not 1, 2 or 5 times a power of ten");
  EXPECT_EQ(faults.front().expected, "an interval such as 20 kg");
  EXPECT_EQ(codes_of(class_faults(h44(), with_clc(in_pounds("III L", 80'000, 20), 30'000, 4))),
            Codes{});
  // Drawn in feet, weighing in kilograms.
  Scale mixed = with_clc(metric("III L", 60'000, 20), 35'000, 4);
  mixed.us = true;
  EXPECT_EQ(codes_of(class_faults(h44(), mixed)), Codes{});
  EXPECT_EQ(codes_of(class_faults(h44(), with_clc(in_pounds("III L", 80'000, 15), 30'000, 4))),
            Codes{"interval_not_round"});
}

TEST(ClassFaults, SayWhatIsWrongAndWhatWouldBeRight) {
  const auto faults = class_faults(r76(), metric("III", 60'000, 5));
  ASSERT_EQ(faults.size(), 1U);
  EXPECT_EQ(faults.front().what,
            "60000 kg by 5 kg are 12000 intervals, class III has at most 10000");
  EXPECT_EQ(faults.front().expected, "an interval of 10 kg or more");
  EXPECT_EQ(r76().cite(faults.front().source), "R 76-1:2006, 3.2, Table 3");
  const auto unknown = class_faults(r76(), metric("III L", 60'000, 20));
  ASSERT_EQ(codes_of(unknown), Codes{"unknown_class"});
  EXPECT_EQ(unknown.front().expected, "one of: II, III, IIII");
  EXPECT_EQ(codes_of(class_faults(r76(), metric("III", 0, 20))), Codes{"no_size"});
}

// R 76-1:2006, 3.3, Table 2 (French decree 91-330): Max_i / e_(i+1) at least 500 for III.
TEST(ClassFaults, JudgeSeveralRanges) {
  Scale scale = metric("III", 60'000, 10);
  scale.ranges = {{30'000, 10}, {60'000, 20}};
  EXPECT_EQ(codes_of(class_faults(r76(), scale)), Codes{});
  scale.ranges = {{10'000, 10}, {60'000, 20}};  // 500 of the next
  EXPECT_EQ(codes_of(class_faults(r76(), scale)), Codes{});
  scale.ranges = {{9'990, 10}, {60'000, 20}};
  EXPECT_EQ(codes_of(class_faults(r76(), scale)), Codes{"range_too_short"});
  scale.ranges = {{30'000, 20}, {60'000, 20}};
  EXPECT_EQ(codes_of(class_faults(r76(), scale)), Codes{"ranges_not_rising"});
  scale.ranges = {{30'000, 10}, {50'000, 20}};
  EXPECT_EQ(codes_of(class_faults(r76(), scale)), Codes{"ranges_short_of_capacity"});
}

// Handbook 44, S.6.1 (a trade page states the formula): capacity at most CLC (N - 0.5). CLC 35 t,
// 4 sections: 122.5 t; 60 000 lb, 3 sections: 150 000 lb.
TEST(ClassFaults, JudgeCapacityByTheClc) {
  EXPECT_EQ(codes_of(class_faults(h44(), with_clc(metric("III L", 122'500, 20), 35'000, 4))),
            Codes{});
  const auto faults = class_faults(h44(), with_clc(metric("III L", 122'520, 20), 35'000, 4));
  ASSERT_EQ(codes_of(faults), Codes{"capacity_above_clc"});
  EXPECT_EQ(faults.front().expected, "at most 35000 kg x (4 - 0.5) = 122500 kg");
  EXPECT_EQ(
      codes_of(class_faults(h44(), with_clc(in_pounds("III L", 150'000, 20), 60'000 * kLb, 3))),
      Codes{});
  EXPECT_EQ(
      codes_of(class_faults(h44(), with_clc(in_pounds("III L", 150'020, 20), 60'000 * kLb, 3))),
      Codes{"capacity_above_clc"});
}

TEST(ClassFaults, DoNotBreakWhatCanNotBeJudged) {
  const auto faults = class_faults(h44(), metric("III L", 60'000, 20));
  ASSERT_EQ(codes_of(faults), Codes{"clc_missing"});
  EXPECT_FALSE(faults.front().breaks);
  const auto unknown = class_faults(h44(), with_clc(metric("III L", 60'000, 20), 35'000, 0));
  ASSERT_EQ(codes_of(unknown), Codes{"sections_missing"});
  EXPECT_FALSE(unknown.front().breaks);
}

}  // namespace
}  // namespace weighwright::rules
