// What is easily got wrong, one test a case; the numbers are those of the list of edge cases.
#include <gtest/gtest.h>

#include <string>

#include "rules/limits.h"
#include "rules/weight_class.h"
#include "scales.h"

// outside check: edge cases 1 and 2: breaks belong to the step below, III L keeps climbing | R
//  76-1:2006, table 6, as quoted by French decree 91-330, Annex I; HB 44, 2.20, table 6 (III L
//  from memory, unverified)
// outside check: edge cases 3 and 4: load that a limit goes by, ranges by maintenance | HB 44,
//  App. D, as quoted by OIML Bulletin 2000/03; T.N.5 by Illinois Adm. Code 8, 600.320; T.N.4.4
//  (from memory, unverified)
// outside check: edge cases 9 and 20: eccentric divisor, additive tare | R 76-1:2006, 3.6.2.2, by
//  Northern Ireland SR 2006/5, Schedule 2, 18(a)(ii); New Zealand Regulations 1999, reg. 60
// outside check: edge cases 14, 17 and 18: edition of substitution, twice the step in service, d
//  other than e | R 76-1:1992 by OIML Bulletin 1994/02; R 76-1:2006, 3.7.3 (from memory,
//  unverified), 3.5.2, T.2.6 and T.3.2.3
// outside check: edge cases 21 and 22: pounds, blocks without a class value | NIST Special
//  Publication 811 (2008), B.8; OIML R 111-1:2004, table 1
// outside check: edge case 23: constants that are misprinted elsewhere | French decree 91-330,
//  Annex I, against UK SI 1995/1907, Schedule 2, para 4; two reprints of HB 44, table 3, against a
//  web table

namespace weighwright::rules {
namespace {

using testing::codes_of;
using testing::h44;
using testing::in_pounds;
using testing::kLb;
using testing::limit_kg;
using testing::metric;
using testing::r76;

constexpr double kSame_kg = 1e-9;

// Breaks belong to the step below: R 76-1:2006, Table 6 ("0 <= m <= 500 e"), as quoted by French
// decree 91-330, Annex I; Handbook 44, Table 6 ("0-500, 501-...").
TEST(EdgeCase01, BreaksAreInclusiveAndMetExactly) {
  const Scale scale = metric("III", 60'000, 20);
  EXPECT_NEAR(limit_kg(r76(), scale, Occasion::as_new, 500 * 20.0), 10, kSame_kg);
  EXPECT_NEAR(limit_kg(r76(), scale, Occasion::as_new, 500 * 20.0 + 0.001), 20, kSame_kg);
  // 0.1 + 0.2 is more than 0.3 in binary; three intervals of 0.1 g are no more than 0.3 g.
  const Scale small = metric("III", 0.3, 0.0001);
  double load_kg = 0.0;
  for (int i = 0; i < 500; ++i) load_kg += 0.0001;
  ASSERT_NE(load_kg, 0.05);
  EXPECT_NEAR(limit_kg(r76(), small, Occasion::as_new, load_kg), 0.00005, 1e-12);
  const Scale us = in_pounds("III L", 80'000, 20);
  EXPECT_NEAR(limit_kg(h44(), us, Occasion::routine, 10'000 * kLb), 20 * kLb, kSame_kg);
  EXPECT_NEAR(limit_kg(h44(), us, Occasion::routine, 10'000 * kLb + 1e-7), 40 * kLb, kSame_kg);
}

// Handbook 44, Table 6 (III L from memory, unverified): "or fraction thereof".
TEST(EdgeCase02, IIILClimbsByBegunFiveHundredsAndIIIStops) {
  const Scale iii_l = metric("III L", 60'000, 10);
  const Scale iii = metric("III", 60'000, 10);
  for (const auto& [divisions, iii_l_d, iii_d] : {std::tuple{1'000, 2, 2},
                                                  {1'001, 3, 2},
                                                  {1'500, 3, 2},
                                                  {2'501, 6, 3},
                                                  {4'001, 9, 5},
                                                  {6'000, 12, 5}}) {
    EXPECT_NEAR(limit_kg(h44(), iii_l, Occasion::routine, divisions * 10.0), iii_l_d * 10.0,
                kSame_kg);
    EXPECT_NEAR(limit_kg(h44(), iii, Occasion::routine, divisions * 10.0), iii_d * 10.0, kSame_kg);
  }
}

// The limit goes by the load that stands there. 10 000 kg that show 10 020 have the limit of 500 e;
// in a strain test the known load alone counts (Handbook 44, App. D, as quoted by OIML Bulletin
// 2000/03): 5 t on top of 40 t are 500 divisions of 10 kg.
TEST(EdgeCase03, LookupTakesTheTrueOrTheKnownLoad) {
  EXPECT_NEAR(limit_kg(r76(), metric("III", 60'000, 20), Occasion::as_new, 10'000), 10, kSame_kg);
  const Scale us = metric("III L", 60'000, 10);
  EXPECT_NEAR(limit_kg(h44(), us, Occasion::routine, 5'000), 10, kSame_kg);
  EXPECT_NEAR(limit_kg(h44(), us, Occasion::routine, 45'000), 90, kSame_kg);
}

// Handbook 44, T.N.5 (Illinois Adm. Code 8, 600.320) and T.N.4.4 (from memory, unverified): ranges
// by maintenance, even in an acceptance test.
TEST(EdgeCase04, RangesGoByMaintenanceEvenAtAcceptance) {
  const Scale scale = metric("III L", 60'000, 10);
  for (const Check check : {Check::section, Check::repeatability}) {
    const auto range = range_limit_at(h44(), scale, Occasion::as_new, check, 7'500);
    ASSERT_TRUE(range);
    EXPECT_NEAR(range->kg, 20, kSame_kg);
    EXPECT_DOUBLE_EQ(range->factor, 1.0);
  }
  EXPECT_NEAR(limit_kg(h44(), scale, Occasion::as_new, 7'500), 10, kSame_kg);
}

// R 76-1:2006, 3.6.2.2 (Northern Ireland SR 2006/5, Schedule 2, 18(a)(ii)): supports less one;
// three sections have six supports.
TEST(EdgeCase09, EccentricDivisorIsSupportsLessOne) {
  const auto load = eccentric_load(r76(), metric("III", 60'000, 20));
  ASSERT_TRUE(load);
  EXPECT_DOUBLE_EQ(load->kg, 12'000.0);
  EXPECT_EQ(load->because, "(Max + T+)/(6 - 1)");
}

// R 76-1:1992 35 % (OIML Bulletin 1994/02), 2006 a third (from memory, unverified): the edition is
// a matter of the rulebook.
TEST(EdgeCase14, SubstitutionGoesByTheEdition) {
  const Scale scale = metric("III", 60'000, 20);
  const ReadRulebook old = read_rulebook(R"(format = 1
code = "R76-1992"
base = "R76"
title = "OIML R 76-1"
edition = "1992"
remark = "the edition before"
[standards.substitution]
steps = [
  { repeatability = 0.2, weights_share = "20 %" },
  { repeatability = 0.3, weights_share = "35 %" },
  { weights_share = "50 %" },
]
clause = "3.7.3"
basis = "quoted"
carrier = "OIML Bulletin 1994/02"
)",
                                         "old.toml");
  ASSERT_TRUE(old.rulebook);
  for (const auto& [repeatability_e, old_t, new_t] :
       {std::tuple{0.35, 30, 30}, {0.3, 21, 20}, {0.2, 12, 12}}) {
    EXPECT_NEAR(least_standards(*old.rulebook, scale, repeatability_e * 20).weights_kg, old_t * 1e3,
                kSame_kg);
    EXPECT_NEAR(least_standards(r76(), scale, repeatability_e * 20).weights_kg, new_t * 1e3, 1e-6);
  }
  // Not measured: no less than half.
  EXPECT_NEAR(least_standards(r76(), scale, {}).weights_kg, 30e3, kSame_kg);
}

// R 76-1:2006, 3.5.2: twice the limit of the load's step (10 t: 20 kg), not of Max (60 kg).
TEST(EdgeCase17, InServiceDoublesTheStepOfTheLoad) {
  const Scale scale = metric("III", 60'000, 20);
  EXPECT_NEAR(limit_kg(r76(), scale, Occasion::routine, 10'000), 20, kSame_kg);
  EXPECT_NEAR(limit_kg(r76(), scale, Occasion::routine, 60'000), 60, kSame_kg);
  // Which of the two a re-verification goes by is the law's: the occasion says so.
  EXPECT_NE(r76().find_occasion(Occasion::adjusted)->remark.find("national law"),
            std::string::npos);
}

// R 76-1:2006, T.2.6 (extended display, d < e) and T.3.2.3: limits are in e.
TEST(EdgeCase18, LimitsAreInEWhateverTheDisplayShows) {
  Scale scale = metric("III", 60'000, 20);
  scale.display_interval_kg = 2;
  EXPECT_NEAR(limit_kg(r76(), scale, Occasion::as_new, 10'000), 10, kSame_kg);
  EXPECT_TRUE(class_faults(r76(), scale).empty());
  scale.display_interval_kg = 50;
  EXPECT_EQ(codes_of(class_faults(r76(), scale)),
            (std::vector<std::string>{"display_above_interval"}));
}

// R 76-1:2006, T.3.1.1: Max is without additive tare; 3.6.2 (NZ Regulations 1999, reg. 60) loads
// are with it.
TEST(EdgeCase20, EccentricAndRollingLoadsIncludeAdditiveTare) {
  Scale scale = metric("III", 60'000, 20);
  scale.tare_kg = 10'000;
  EXPECT_DOUBLE_EQ(eccentric_load(r76(), scale)->kg, 14'000.0);
  EXPECT_DOUBLE_EQ(rolling_load(r76(), scale)->kg, 56'000.0);
  EXPECT_DOUBLE_EQ(greatest_indication(r76(), scale)->kg, 60'180.0);
}

// NIST SP 811, B.8: pound exact. 34 000 lb, 80 000 lb to all digits.
TEST(EdgeCase21, PoundsAndKilogramsMixExactly) {
  EXPECT_NEAR(34'000 * kLb, 15'422.140'58, 1e-8);
  EXPECT_NEAR(80'000 * kLb, 36'287.389'6, 1e-8);
  // d in pounds, weights in kg: 10 000 lb are 4535.9237 kg, 1 g more is the next step.
  const Scale us = in_pounds("III L", 80'000, 20);
  EXPECT_NEAR(limit_kg(h44(), us, Occasion::routine, 4'535.9237), 20 * kLb, kSame_kg);
  EXPECT_NEAR(limit_kg(h44(), us, Occasion::routine, 4'535.9247), 40 * kLb, kSame_kg);
}

// OIML R 111-1:2004, Table 1: nominal values 1, 2, 5 times a power of ten.
TEST(EdgeCase22, BlocksOutsideTheSeriesHaveNoClassValue) {
  for (const double nominal_kg : {25.0, 1'500.0, 2'500.0, 300.0}) {
    EXPECT_FALSE(weight_limit("M1", nominal_kg)) << nominal_kg;
    EXPECT_FALSE(weight_limit("M2", nominal_kg)) << nominal_kg;
  }
}

// Misprints that are about: class II 0.5 e up to "20 000 e" (UK SI 1995/1907, Schedule 2, para 4;
// French decree 91-330 has 5 000), III L "500 to 2 000" intervals (a web table; two reprints have
// 2 000 to 10 000).
TEST(EdgeCase23, ConstantsAreNotThoseOfTheMisprints) {
  EXPECT_DOUBLE_EQ(r76().find_class("II")->steps.front().up_to_d, 5'000.0);
  const IntervalBand& band = h44().find_class("III L")->bands.front();
  EXPECT_DOUBLE_EQ(band.n_min, 2'000.0);
  EXPECT_DOUBLE_EQ(band.n_max, 10'000.0);
}

// Max, CLC, the load of a section, the greatest indication, the least load: quantities of their
// own. CLC 35 t, 60 t by 10 kg, six supports.
TEST(EdgeCase28, CapacitiesAreNotMixedUp) {
  Scale scale = metric("III L", 60'000, 10);
  scale.clc_kg = 35'000;
  EXPECT_DOUBLE_EQ(section_load(h44(), scale)->kg, 7'500.0);  // 12.5 % of Max
  EXPECT_DOUBLE_EQ(most_on_pattern(h44(), scale, false)->kg, 35'000.0);
  EXPECT_DOUBLE_EQ(most_on_pattern(h44(), scale, true)->kg, 17'500.0);
  EXPECT_DOUBLE_EQ(greatest_indication(h44(), scale)->kg, 63'000.0);
  EXPECT_DOUBLE_EQ(least_load_kg(r76(), metric("III", 60'000, 20)), 400.0);
}

}  // namespace
}  // namespace weighwright::rules
