// The whole weighing model by both methods: the analytic result must be that of the Monte Carlo
// method within its numerical tolerance (JCGM 101:2008, 7.9.2 and 8.1), where the analytic method's
// conditions hold (5.7), and must be refused where they do not.

#include <gtest/gtest.h>

#include <cmath>

#include "proof/weighing_model.h"

// outside check: analytic result of the whole model against the Monte Carlo method, where its
//  conditions hold and where not | JCGM 101:2008, 5.7, 6.4.9.4, 7.9.2, 8.1 and 9.2.4

namespace weighwright::proof {
namespace {

constexpr std::int64_t kMillion = 1'000'000;

struct Both {
  Budget analytic;
  Sampled sampled;
};

constexpr double kCoverage = 0.9545;

Both both(int dof, double eccentric) {
  const std::vector<weighing::Part> parts = weighing::parts(dof, eccentric);
  const Model model = [&parts](std::span<const double> draws, int count, std::span<double> out) {
    weighing::error(parts, draws, count, out);
  };
  MonteCarloOptions options;
  options.coverage = kCoverage;
  options.shortest = false;
  return {weighing::analytic(parts, kCoverage),
          monte_carlo_fixed(weighing::inputs(parts), model, kMillion, options)};
}

Validation compare(const Both& of, int digits) {
  return validate(weighing::kError_kg, of.analytic.U_kg, of.analytic.u_kg, digits, of.sampled);
}

// Trimmed and repeatability known: estimate, standard uncertainty and both ends of the interval
// agree to two digits of u = 4.1 kg (delta 0.05 kg).
TEST(Weighing, IsTheSameByBothMethods) {
  const Both of = both(0, weighing::kTrimmed);
  EXPECT_NEAR(of.sampled.mean, weighing::kError_kg, 0.05);
  EXPECT_NEAR(of.sampled.u, of.analytic.u_kg, numerical_tolerance(of.analytic.u_kg, 2));
  const Validation interval = compare(of, 2);
  EXPECT_TRUE(interval.holds) << interval.d_low << " " << interval.d_high;
}

// Repeatability from six readings that all steps share: the sampled standard deviation is wider by
// the variance nu/(nu - 2) of Student's t (JCGM 101:2008, 6.4.9.4), of all shared terms together.
TEST(Weighing, IsWiderByASharedEstimate) {
  for (const double eccentric : {weighing::kTrimmed, weighing::kUntrimmed}) {
    const Both of = both(5, eccentric);
    double shared = 0.0;
    for (const Term& term : of.analytic.terms) {
      if (term.estimate != 0) shared += term.u_kg * term.u_kg;
    }
    const double widened =
        std::sqrt(of.analytic.u_kg * of.analytic.u_kg + shared * (5.0 / 3.0 - 1.0));
    EXPECT_NEAR(of.sampled.u, widened, 0.05) << eccentric;
  }
}

// Where other terms lead, the degrees of freedom counted once give the interval to one digit; where
// six readings are half of the variance the analytic interval is too narrow, and it is told.
TEST(Weighing, IsRefusedWhereFewRepeatsLead) {
  const Both untrimmed = both(5, weighing::kUntrimmed);
  EXPECT_TRUE(compare(untrimmed, 1).holds);
  const Both trimmed = both(5, weighing::kTrimmed);
  EXPECT_FALSE(compare(trimmed, 1).holds);
  EXPECT_GT((trimmed.sampled.high - trimmed.sampled.low) / 2.0, trimmed.analytic.U_kg);
}

// One rectangle that has two thirds of the variance: no normal distribution, as in JCGM 101:2008,
// 9.2.4. The standard uncertainty still agrees, the interval is said too wide, and it is told.
TEST(Weighing, IsRefusedWhereOneRectangleLeads) {
  const Both of = both(0, weighing::kUntrimmed);
  EXPECT_NEAR(of.sampled.u, of.analytic.u_kg, numerical_tolerance(of.analytic.u_kg, 2));
  EXPECT_GT(of.analytic.leads_share, 0.6);
  EXPECT_FALSE(compare(of, 1).holds);
  EXPECT_LT((of.sampled.high - of.sampled.low) / 2.0, of.analytic.U_kg);
}

// A budget that leaves out the substitution readings is found out.
TEST(Weighing, RefusesABudgetWithoutItsSubstitutions) {
  const Both of = both(0, weighing::kTrimmed);
  const std::vector<weighing::Part> all = weighing::parts(0);
  const std::vector<weighing::Part> first(all.begin(), all.begin() + 6);
  const Budget poor = weighing::analytic(first, kCoverage);
  EXPECT_FALSE(validate(weighing::kError_kg, poor.U_kg, poor.u_kg, 1, of.sampled).holds);
}

}  // namespace
}  // namespace weighwright::proof
