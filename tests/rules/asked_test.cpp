// What an occasion asks for, what counts as near zero and as made, and ranges of their own.
#include <gtest/gtest.h>

#include <vector>

#include "rules/limits.h"
#include "scales.h"

// outside check: one series of repeatability near 0.8 of Max at verification, two at type
//  examination | R 76-1:2006, A.4.10 (two readings, both from memory, unverified)
// outside check: discrimination not of a digital display at subsequent verification | R
//  76-1:2006, 8.3.3 (from memory, unverified)
// outside check: repeated weighings are a tolerance, no test of its own | HB 44, 2.20, T.N.5, as
//  quoted by Illinois Adm. Code 8, 600.320
// outside check: multi-interval and multiple range told apart | R 76-1:2006, T.3.2.6 and T.3.2.7
//  (OIML vocabulary data set), 3.3 Table 2 as quoted by French decree 91-330, Annex I

namespace weighwright::rules {
namespace {

using testing::codes_of;
using testing::h44;
using testing::in_pounds;
using testing::kLb;
using testing::limit_kg;
using testing::metric;
using testing::r76;

using Shares = std::vector<double>;

TEST(Asked, OneSeriesOfRepeatabilityAtVerificationAndTwoAtTypeExamination) {
  for (const Occasion occasion : {Occasion::as_new, Occasion::adjusted, Occasion::routine})
    EXPECT_EQ(repeats_asked(r76(), occasion).shares, Shares{0.8});
  const RepeatsAsked type = repeats_asked(r76(), Occasion::type);
  EXPECT_EQ(type.shares, (Shares{0.5, 1.0}));
  EXPECT_EQ(type.count, 3);
  EXPECT_EQ(type.source.basis, Basis::memory);
}

TEST(Asked, DiscriminationOfADigitalDisplayAtFirstButNotAtSubsequentVerification) {
  const TestRule& test = *r76().find_test(Check::discrimination);
  Scale scale = metric("III", 60'000, 20);
  for (const Occasion occasion : {Occasion::as_new, Occasion::type})
    EXPECT_TRUE(is_asked(r76(), scale, occasion, test));
  for (const Occasion occasion : {Occasion::after_rejection, Occasion::overhaul, Occasion::adjusted,
                                  Occasion::routine, Occasion::as_found})
    EXPECT_FALSE(is_asked(r76(), scale, occasion, test));
  EXPECT_TRUE(is_asked(h44(), scale, Occasion::routine, *h44().find_test(Check::discrimination)));
  scale.digital = false;
  EXPECT_TRUE(is_asked(r76(), scale, Occasion::adjusted, test));
}

TEST(Asked, RepeatedWeighingsAreNoTestOfTheHandbook) {
  const TestRule& test = *h44().find_test(Check::repeatability);
  EXPECT_FALSE(is_asked(h44(), metric("III L", 60'000, 20), Occasion::as_new, test));
  EXPECT_TRUE(range_limit_at(h44(), metric("III L", 60'000, 20), Occasion::as_new,
                             Check::repeatability, 7'500));
}

// 200 000 lb by 20 lb, no Min: 400 lb, and never 10 000 lb (5 % of the capacity).
TEST(NearZero, IsMinOrTwentyDivisionsAndNoShareOfMax) {
  EXPECT_DOUBLE_EQ(near_zero_kg(h44(), in_pounds("III L", 200'000, 20)), 400 * kLb);
  EXPECT_DOUBLE_EQ(near_zero_kg(r76(), metric("III", 60'000, 20)), 400.0);
}

// (60 t)/(8 - 1) = 8571.43 kg; a third of its limit, 0.5 e = 10 kg, is 3.33 kg.
TEST(PrescribedLoads, AreTheLeastButForAThirdOfTheLimit) {
  const Scale scale = metric("III", 60'000, 20);
  const double wanted = 60'000.0 / 7.0;
  const auto made = [&](double kg) {
    return counts_as_made(r76(), scale, Occasion::as_new, kg, wanted);
  };
  EXPECT_TRUE(made(8'572));
  EXPECT_TRUE(made(8'568.2));
  EXPECT_FALSE(made(8'568.0));
  EXPECT_FALSE(made(7'900));
  EXPECT_TRUE(made(20'000));
}

Scale two_ranges(bool multiple) {
  Scale scale = metric("III", 60'000, 5);
  scale.ranges = {{5'000, 5}, {60'000, 20}};
  scale.multiple_range = multiple;
  return scale;
}

// Table 2 wants 5000 kg to be 500 intervals of 20 kg of a multi-interval scale: 10 000 kg.
TEST(ClassFaults, HoldTheRuleOfPartialRangesToMultiIntervalOnly) {
  EXPECT_EQ(codes_of(class_faults(r76(), two_ranges(false))),
            std::vector<std::string>{"range_too_short"});
  EXPECT_EQ(codes_of(class_faults(r76(), two_ranges(true))), std::vector<std::string>{});
}

// 0.5 e at 4 t: 2.5 kg in the range to 5 t, 10 kg in the range to 60 t.
TEST(Ranges, EachHaveTheLimitsOfAScaleOfTheirOwn) {
  const Scale scale = two_ranges(true);
  EXPECT_EQ(range_count(scale), 2);
  EXPECT_EQ(smallest_range_for(scale, 5'000), 0);
  EXPECT_EQ(smallest_range_for(scale, 5'000.1), 1);
  EXPECT_EQ(limit_kg(r76(), in_range(scale, 0), Occasion::as_new, 2'500), 2.5);
  EXPECT_EQ(limit_kg(r76(), in_range(scale, 1), Occasion::as_new, 2'500), 10.0);
  EXPECT_EQ(in_range(scale, 1).capacity_kg, 60'000.0);
  EXPECT_EQ(least_load_kg(r76(), in_range(scale, 1)), 400.0);
  EXPECT_EQ(range_count(two_ranges(false)), 1);
}

// R 76-1:2006, 4.6.3 (from memory), 4.5.1 (Northern Ireland SR 2006/5): 0.25 e, 4 % of Max.
TEST(IndicatorLimits, AreThoseOfTheirClauses) {
  const Scale scale = metric("III", 60'000, 20);
  EXPECT_DOUBLE_EQ(tare_limit(r76(), scale)->kg, 5.0);
  EXPECT_DOUBLE_EQ(zero_range_limit(r76(), scale)->kg, 2'400.0);
  EXPECT_DOUBLE_EQ(indications_limit(r76(), scale, 30'000)->kg, 0.0);
  EXPECT_FALSE(tare_limit(h44(), scale));
  EXPECT_DOUBLE_EQ(greatest_indication(h44(), scale)->kg, 63'000.0);
}

}  // namespace
}  // namespace weighwright::rules
