// Limits of error by load, class and occasion. Loads and limits are typed from the tables; a
// tolerance of 1e-9 kg covers the product of a factor and an interval in binary.
#include "rules/limits.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <vector>

#include "scales.h"

// outside check: limits of error of classes III and IIII, in service twice, on several intervals
//  | R 76-1:2006, 3.5.1 table 6, 3.5.2 and T.3.2.6, as quoted by French decree 91-330, Annex I,
//  and OIML Bulletin 2013/03, table 1
// outside check: tolerances of class III, acceptance | HB 44, 2.20, table 6, as OIML Bulletin
//  2013/03, table 2, prints it
// outside check: tolerances of class III L | HB 44, 2.20, table 6 (from memory, unverified); 0.2
//  % of the load by TRB abstract 272193
// outside check: limits of zero, of ranges and of standards; ways down | R 76-1:2006, 3.6.1,
//  3.7.1, 3.9.4.2 and 4.5.2, as quoted by OIML Bulletins 1990/04, 1994/02, 1996/03 and 2001/04; HB
//  44, 2.20, N.1.2.2 and N.1.9 (from memory, unverified)

namespace weighwright::rules {
namespace {

using testing::h44;
using testing::in_pounds;
using testing::kLb;
using testing::limit_kg;
using testing::metric;
using testing::r76;

constexpr double kSame_kg = 1e-9;

struct Expected {
  double load = 0.0;
  double limit = 0.0;
};

// OIML R 76-1:2006, 3.5.1, Table 6 (as quoted by French decree 91-330, Annex I, and OIML Bulletin
// 2013/03, Table 1): class III, e = 20 kg.
TEST(Limits, OfR76ClassIIIFollowTable6) {
  const Scale scale = metric("III", 60'000, 20);
  for (const Expected row : {Expected{0, 10},
                             {400, 10},
                             {10'000, 10},
                             {10'020, 20},
                             {40'000, 20},
                             {40'020, 30},
                             {60'000, 30}}) {
    EXPECT_NEAR(limit_kg(r76(), scale, Occasion::as_new, row.load), row.limit, kSame_kg)
        << row.load;
  }
}

// The same in service: twice (3.5.2; value as quoted by French decree 91-330, Annex I, 4.2).
TEST(Limits, OfR76InServiceAreTwice) {
  const Scale scale = metric("III", 60'000, 20);
  for (const Expected row :
       {Expected{400, 20}, {10'000, 20}, {10'020, 40}, {40'000, 40}, {40'020, 60}, {60'000, 60}}) {
    EXPECT_NEAR(limit_kg(r76(), scale, Occasion::routine, row.load), row.limit, kSame_kg);
    EXPECT_NEAR(limit_kg(r76(), scale, Occasion::as_found, row.load), row.limit, kSame_kg);
  }
}

// R 76-1:2006, 3.5.1, Table 6: class IIII, e = 50 kg.
TEST(Limits, OfR76ClassIIIIFollowTable6) {
  const Scale scale = metric("IIII", 50'000, 50);
  for (const Expected row :
       {Expected{2'500, 25}, {2'550, 50}, {10'000, 50}, {10'050, 75}, {50'000, 75}}) {
    EXPECT_NEAR(limit_kg(r76(), scale, Occasion::as_new, row.load), row.limit, kSame_kg);
  }
}

// NIST Handbook 44, 2.20, Table 6, class III, d = 10 kg, acceptance: as OIML Bulletin 2013/03,
// Table 2 prints it (0.5/1/1.5/2.5 d).
TEST(Limits, OfHandbookClassIIIFollowTable6) {
  const Scale scale = metric("III", 80'000, 10);
  for (const Expected row : {Expected{5'000, 5}, {20'000, 10}, {40'000, 15}, {40'010, 25}}) {
    EXPECT_NEAR(limit_kg(h44(), scale, Occasion::as_new, row.load), row.limit, kSame_kg);
    EXPECT_NEAR(limit_kg(h44(), scale, Occasion::routine, row.load), 2 * row.limit, kSame_kg);
  }
}

// NIST Handbook 44, 2.20, Table 6, class III L (from memory, unverified; in line with "0.2 % of the
// applied load", TRB abstract 272193): d = 20 lb.
TEST(Limits, OfHandbookClassIIILKeepClimbing) {
  const Scale scale = in_pounds("III L", 200'000, 20);
  for (const Expected row : {Expected{10'000, 20},
                             {10'020, 40},
                             {20'000, 40},
                             {20'020, 60},
                             {34'000, 80},
                             {80'000, 160},
                             {200'000, 400}}) {
    EXPECT_NEAR(limit_kg(h44(), scale, Occasion::routine, row.load * kLb), row.limit * kLb,
                kSame_kg);
    EXPECT_NEAR(limit_kg(h44(), scale, Occasion::as_new, row.load * kLb), row.limit / 2 * kLb,
                kSame_kg);
  }
}

// A limit is cited with the clause of its step and that of its occasion (R 76-1:2006, Table 6
// and 3.5.2).
TEST(Limits, NameTheirClauses) {
  const auto limit = limit_at(r76(), metric("III", 60'000, 20), Occasion::routine, 20'000);
  ASSERT_TRUE(limit);
  EXPECT_EQ(r76().cite(limit->source), "R 76-1:2006, 3.5.1, Table 6");
  EXPECT_EQ(r76().cite(limit->factor_source), "R 76-1:2006, 3.5.2");
  EXPECT_DOUBLE_EQ(limit->divisions, 2.0);
  EXPECT_DOUBLE_EQ(limit->interval_kg, 20.0);
  EXPECT_DOUBLE_EQ(limit->factor, 2.0);
}

TEST(Limits, AreNoneWhereThereIsNoRule) {
  const Scale scale = metric("III", 60'000, 20);
  EXPECT_FALSE(limit_at(r76(), metric("III L", 60'000, 20), Occasion::routine, 1.0));
  EXPECT_FALSE(limit_at(r76(), scale, Occasion::routine, -1.0));
  EXPECT_FALSE(limit_at(r76(), scale, Occasion::routine, std::nan("")));
  // R 76-1:2006, 3.2, Table 3: class III has at most 10 000 e.
  EXPECT_TRUE(limit_at(r76(), scale, Occasion::routine, 200'000));
  EXPECT_FALSE(limit_at(r76(), scale, Occasion::routine, 200'000.001));
  EXPECT_FALSE(limit_at(r76(), metric("III", 60'000, 0), Occasion::routine, 1.0));
}

// R 76-1:2006, 3.5.1 with T.3.2.6: a multi-interval scale has the e_i of the part that the load
// lies in. 30 t by 10 kg, 60 t by 20 kg: 30 t are 3000 e_1, 30 020 kg are 1501 e_2.
TEST(Limits, OfSeveralIntervalsGoByThePart) {
  Scale scale = metric("III", 60'000, 10);
  scale.ranges = {{30'000, 10}, {60'000, 20}};
  for (const Expected row : {Expected{5'000, 5},
                             {5'010, 10},
                             {20'000, 10},
                             {20'010, 15},
                             {30'000, 15},
                             {30'020, 20},
                             {40'000, 20},
                             {40'020, 30}}) {
    EXPECT_NEAR(limit_kg(r76(), scale, Occasion::as_new, row.load), row.limit, kSame_kg)
        << row.load;
  }
  EXPECT_DOUBLE_EQ(interval_at_kg(scale, 30'000), 10.0);
  EXPECT_DOUBLE_EQ(interval_at_kg(scale, 30'000.00001), 20.0);
  const std::vector<double> wanted = {5'000, 20'000, 30'000, 40'000};
  EXPECT_EQ(break_loads_kg(r76(), scale), wanted);
}

// Break points of R 76-1:2006, Table 6, and of Handbook 44, Table 6.
TEST(Limits, StepWhereTheTablesStep) {
  EXPECT_EQ(break_loads_kg(r76(), metric("III", 60'000, 20)),
            (std::vector<double>{10'000, 40'000}));
  EXPECT_EQ(break_loads_kg(h44(), metric("III", 80'000, 10)),
            (std::vector<double>{5'000, 20'000, 40'000}));
  EXPECT_EQ(break_loads_kg(h44(), metric("III L", 60'000, 20)),
            (std::vector<double>{10'000, 20'000, 30'000, 40'000, 50'000}));
}

// R 76-1:2006, 4.5.2 (+-0.25 e) and 3.9.4.2 (0.5 e), as quoted by OIML Bulletin 1996/03, 2001/04
// and 1990/04; Handbook 44, N.1.9 (from memory, unverified): the smallest tolerance.
TEST(Limits, OfZeroAreThoseOfTheirClauses) {
  const Scale scale = metric("III", 60'000, 20);
  EXPECT_DOUBLE_EQ(zero_setting_limit(r76(), scale, Occasion::routine)->kg, 5.0);
  EXPECT_DOUBLE_EQ(zero_return_limit(r76(), scale, Occasion::routine)->kg, 10.0);
  const Scale us = in_pounds("III L", 80'000, 20);
  EXPECT_NEAR(zero_return_limit(h44(), us, Occasion::as_new)->kg, 10 * kLb, kSame_kg);
  EXPECT_NEAR(zero_return_limit(h44(), us, Occasion::routine)->kg, 20 * kLb, kSame_kg);
  EXPECT_EQ(zero_return_limit(h44(), us, Occasion::routine)->source.clause, "N.1.9");
}

// R 76-1:2006, 3.6.1 as quoted by OIML Bulletin 1994/02: the range of several weighings is at most
// the limit of that load.
TEST(Limits, OfRangesInR76AreThoseOfTheLoad) {
  const Scale scale = metric("III", 60'000, 20);
  const auto limit = range_limit_at(r76(), scale, Occasion::as_new, Check::repeatability, 30'000);
  ASSERT_TRUE(limit);
  EXPECT_DOUBLE_EQ(limit->kg, 20.0);
  EXPECT_EQ(limit->source.clause, "3.6.1");
  EXPECT_FALSE(range_limit_at(r76(), scale, Occasion::as_new, Check::increasing, 30'000));
}

// R 76-1:2006, 3.7.1 as quoted by OIML Bulletin 1994/02: a third of the limit. 60 t, e = 20 kg: 10
// kg at Max, 3.33 kg at 10 t.
TEST(Limits, LeaveAThirdToTheStandards) {
  const Scale scale = metric("III", 60'000, 20);
  EXPECT_NEAR(standards_limit_at(r76(), scale, Occasion::as_new, 60'000)->kg, 10.0, kSame_kg);
  EXPECT_NEAR(standards_limit_at(r76(), scale, Occasion::as_new, 10'000)->kg, 3.33, 0.005);
}

// Handbook 44, N.1.2.2 (from memory, unverified): III L comes down by way of half of the greatest
// load, III with 1000 intervals or more by way of each break. R 76-1, A.4.4.1: the same loads.
TEST(Limits, AreTestedOnTheWayDownAsEachRulebookSays) {
  EXPECT_EQ(decreasing_loads_kg(h44(), metric("III L", 60'000, 20), 30'000),
            (std::vector<double>{15'000}));
  EXPECT_EQ(decreasing_loads_kg(h44(), metric("III", 80'000, 10), 30'000),
            (std::vector<double>{20'000, 5'000}));
  EXPECT_TRUE(decreasing_loads_kg(r76(), metric("III", 60'000, 20), 60'000).empty());
}

// Exactness: 0.453 592 37 kg is one pound (NIST SP 811, B.8); break points in pounds are met.
TEST(Counts, AreExactForPoundsAndGrams) {
  EXPECT_EQ(counts_of(kLb), 45'359'237);
  EXPECT_EQ(counts_of(20 * kLb) * 500, counts_of(10'000 * kLb));
  EXPECT_EQ(counts_of(0.1 * 3), counts_of(0.3));
  EXPECT_EQ(counts_of(std::nan("")), 0);
  EXPECT_EQ(counts_of(std::numeric_limits<double>::infinity()), counts_of(1e7));
  EXPECT_TRUE(within(-0.1 * 3, 0.3));
  EXPECT_FALSE(within(0.300001, 0.3));
  EXPECT_FALSE(within(std::nan(""), 0.3));
}

}  // namespace
}  // namespace weighwright::rules
