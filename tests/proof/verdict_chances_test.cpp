#include <gtest/gtest.h>

#include <cmath>

#include "verdict_results.h"

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)

LineChance chance(Check check, double load_kg, const Foreknown& known) {
  const auto chances = chances_before(weighbridge(60'000.0, 20.0, "R76"), r76(),
                                      rules::Occasion::as_new, {{check, load_kg}}, known);
  return chances.at(0);
}

// outside check: chance to be within one standard deviation | JCGM 100:2008, Table G.1
// Slope known to 0.05 % alone at 40 t: u 20 kg, limit 20 kg (R 76-1:2006, 3.5.1): a normal value is
// within one standard deviation with 68.27 % (JCGM 100:2008, Table G.1).
TEST(VerdictChances, OneStandardDeviationIs68Percent) {
  Foreknown known;
  known.u_slope = 0.0005;
  EXPECT_NEAR(chance(Check::increasing, 40'000.0, known).p_pass, 0.6827, 0.002);
}

// An error expected on its limit is within it every second time.
TEST(VerdictChances, ExpectedOnItsLimitItIsHalf) {
  Foreknown known;
  known.slope = 1.0005;
  known.repeatability_kg = 3.0;
  const LineChance one = chance(Check::increasing, 40'000.0, known);
  EXPECT_NEAR(one.expected_error_kg, 20.0, 1e-9);
  EXPECT_NEAR(one.p_pass, 0.5, 1e-6);
}

TEST(VerdictChances, CornersCountWhereTheLoadStandsOnThem) {
  Foreknown known;
  known.spread_kg = 10.0;
  known.reference_kg = 12'000.0;
  const LineChance corner = chance(Check::eccentric, 12'000.0, known);
  const LineChance whole = chance(Check::increasing, 12'000.0, known);
  EXPECT_NEAR(corner.u_kg, 10.0, 0.1);
  EXPECT_LT(whole.u_kg, corner.u_kg);
  EXPECT_GT(whole.p_pass, corner.p_pass);
}

TEST(VerdictChances, LinesWithoutAnErrorOrALimitAreLeftOut) {
  const auto chances = chances_before(
      weighbridge(60'000.0, 20.0, "R76"), r76(), rules::Occasion::as_new,
      {{Check::zero, 0.0}, {Check::discrimination, 400.0}, {Check::increasing, 1e9}}, {});
  EXPECT_TRUE(chances.empty());
}

}  // namespace
}  // namespace weighwright::proof
