#include "proof/budget.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>

// outside check: coverage factors by degrees of freedom and level of confidence, whole table |
//  JCGM 100:2008, table G.2 (one misprint told: 35 degrees of freedom, 90 %) and G.6.4
// outside check: uncertainty of a rounded display and of a rectangle, coverage of a rectangle |
//  JCGM 100:2008, F.2.2.1 and G.1.3 Note
// outside check: effective degrees of freedom: 19.0, U95 2.2 % | JCGM 100:2008, G.4.1, example,
//  and eq. (G.2b)
// outside check: rounding of an uncertainty: 10.47 to 11, 28.05 to 28 | JCGM 100:2008, 7.2.6
// outside check: degrees of freedom of a substitution chain of six steps | a separate script
//  (numpy) on the formulas of EURAMET cg-18, which are from memory, unverified: a cross-check

namespace weighwright::proof {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

Term term(double u, double dof = kInfinity, Shape shape = Shape::normal, int estimate = 0) {
  return {"", u, dof, shape, estimate};
}

struct Row {
  double dof;
  std::array<double, 6> t;
};

// JCGM 100:2008, table G.2, whole, but for one misprint: for 35 degrees of freedom and 90 % it has
// 1.70, where the distribution (and any table of t) has 1.690.
constexpr std::array<Row, 27> kTableG2 = {{
    {1, {1.84, 6.31, 12.71, 13.97, 63.66, 235.80}},
    {2, {1.32, 2.92, 4.30, 4.53, 9.92, 19.21}},
    {3, {1.20, 2.35, 3.18, 3.31, 5.84, 9.22}},
    {4, {1.14, 2.13, 2.78, 2.87, 4.60, 6.62}},
    {5, {1.11, 2.02, 2.57, 2.65, 4.03, 5.51}},
    {6, {1.09, 1.94, 2.45, 2.52, 3.71, 4.90}},
    {7, {1.08, 1.89, 2.36, 2.43, 3.50, 4.53}},
    {8, {1.07, 1.86, 2.31, 2.37, 3.36, 4.28}},
    {9, {1.06, 1.83, 2.26, 2.32, 3.25, 4.09}},
    {10, {1.05, 1.81, 2.23, 2.28, 3.17, 3.96}},
    {11, {1.05, 1.80, 2.20, 2.25, 3.11, 3.85}},
    {12, {1.04, 1.78, 2.18, 2.23, 3.05, 3.76}},
    {13, {1.04, 1.77, 2.16, 2.21, 3.01, 3.69}},
    {14, {1.04, 1.76, 2.14, 2.20, 2.98, 3.64}},
    {15, {1.03, 1.75, 2.13, 2.18, 2.95, 3.59}},
    {16, {1.03, 1.75, 2.12, 2.17, 2.92, 3.54}},
    {17, {1.03, 1.74, 2.11, 2.16, 2.90, 3.51}},
    {18, {1.03, 1.73, 2.10, 2.15, 2.88, 3.48}},
    {19, {1.03, 1.73, 2.09, 2.14, 2.86, 3.45}},
    {20, {1.03, 1.72, 2.09, 2.13, 2.85, 3.42}},
    {25, {1.02, 1.71, 2.06, 2.11, 2.79, 3.33}},
    {30, {1.02, 1.70, 2.04, 2.09, 2.75, 3.27}},
    {35, {1.01, 1.69, 2.03, 2.07, 2.72, 3.23}},
    {40, {1.01, 1.68, 2.02, 2.06, 2.70, 3.20}},
    {45, {1.01, 1.68, 2.01, 2.06, 2.69, 3.18}},
    {50, {1.01, 1.68, 2.01, 2.05, 2.68, 3.16}},
    {kInfinity, {1.000, 1.645, 1.960, 2.000, 2.576, 3.000}},
}};

// 68.27, 95.45 and 99.73 % stand for one, two and three standard deviations of a normal quantity
// (footnote a of the table).
TEST(CoverageFactor, IsThatOfTableG2) {
  const std::array<double, 6> coverage = {
      std::erf(std::sqrt(0.5)), 0.90, 0.95,
      std::erf(std::sqrt(2.0)), 0.99, std::erf(3.0 * std::sqrt(0.5))};
  for (const Row& row : kTableG2) {
    for (std::size_t i = 0; i < coverage.size(); ++i) {
      EXPECT_NEAR(coverage_factor(row.dof, coverage[i]), row.t[i], 0.005001)
          << "dof " << row.dof << ", coverage " << coverage[i];
    }
  }
}

// The row of 100 degrees of freedom is printed with one digit more.
TEST(CoverageFactor, IsThatOfTableG2For100) {
  EXPECT_NEAR(coverage_factor(100, 0.90), 1.660, 0.0005);
  EXPECT_NEAR(coverage_factor(100, 0.95), 1.984, 0.0005);
  EXPECT_NEAR(coverage_factor(100, 0.9545), 2.025, 0.0005);
  EXPECT_NEAR(coverage_factor(100, 0.99), 2.626, 0.0005);
}

// Between whole numbers the factor lies between theirs (G.6.4: interpolate).
TEST(CoverageFactor, LiesBetweenItsNeighbours) {
  const double k = coverage_factor(16.75, 0.95);
  EXPECT_LT(k, coverage_factor(16, 0.95));
  EXPECT_GT(k, coverage_factor(17, 0.95));
}

// JCGM 100:2008, F.2.2.1: a weighing instrument whose smallest digit is 1 g: u = 0.29 g.
TEST(Uncertainty, OfRoundingIsThatOfTheGuidesOwnScale) {
  EXPECT_NEAR(u_of_step(1.0), 0.29, 0.005);
}

// JCGM 100:2008, G.1.3 Note: one standard deviation of a rectangle holds 57.74 % of it.
TEST(Uncertainty, OfLimitsIsThatOfARectangle) {
  EXPECT_NEAR(u_of_limits(1.0), 0.5774, 0.00005);
}

// JCGM 100:2008, G.4.1, example: relative 0.25, 0.57 and 0.82 % from 10, 5 and 15 observations give
// 1.03 %, 19.0 degrees of freedom, t95 = 2.09 and U95 = 2.2 %.
TEST(Budget, CountsDegreesOfFreedomAsTheGuideDoes) {
  const Budget budget = combine({term(0.25, 9), term(0.57, 4), term(0.82, 14)}, 0.95);
  EXPECT_NEAR(budget.u_kg, 1.03, 0.005);
  EXPECT_NEAR(budget.dof, 19.0, 0.05);
  EXPECT_NEAR(budget.k, 2.09, 0.005);
  EXPECT_NEAR(budget.U_kg, 2.2, 0.05);
  EXPECT_EQ(budget.leads, 2);
  EXPECT_NEAR(budget.leads_share, 0.82 * 0.82 / (1.03 * 1.03), 0.01);
}

// Table G.2, last row: nothing is estimated from few readings.
TEST(Budget, HasTwoForKWhereNothingIsEstimated) {
  const Budget budget = combine({term(3.0), term(4.0)});
  EXPECT_DOUBLE_EQ(budget.u_kg, 5.0);
  EXPECT_TRUE(std::isinf(budget.dof));
  EXPECT_NEAR(budget.k, 2.000, 0.0005);
}

// JCGM 100:2008, G.1.3 Note: of a rectangle 95 % lie within 1.65, 99 % within 1.71 standard
// deviations. That this holds up to others of 0.3 of it: EURAMET cg-18, from memory, unverified.
TEST(Budget, TakesTheRectanglesFactorWhereItLeads) {
  const Budget alone = combine({term(1.0, kInfinity, Shape::rectangular)}, 0.95);
  EXPECT_TRUE(alone.rectangular);
  EXPECT_DOUBLE_EQ(alone.k, 1.65);
  EXPECT_DOUBLE_EQ(combine({term(1.0, kInfinity, Shape::rectangular)}, 0.99).k, 1.71);
  EXPECT_DOUBLE_EQ(combine({term(1.0, kInfinity, Shape::rectangular), term(0.29, 3)}).k, 1.65);
  const Budget mixed = combine({term(1.0, kInfinity, Shape::rectangular), term(0.31)});
  EXPECT_FALSE(mixed.rectangular);
  EXPECT_NEAR(mixed.k, 2.000, 0.0005);
  EXPECT_FALSE(combine({term(1.0), term(0.1, kInfinity, Shape::rectangular)}).rectangular);
}

// Eq. (G.2b) for one variance that was estimated once: its degrees of freedom are those of the
// estimate, in however many readings it occurs. Counted apart they would be three times as many.
TEST(Budget, CountsASharedEstimateOnce) {
  const Budget shared = combine({term(2.0, 5, Shape::student, 1), term(2.0, 5, Shape::student, 1),
                                 term(2.0, 5, Shape::student, 1)});
  EXPECT_NEAR(shared.u_kg, 2.0 * std::sqrt(3.0), 1e-12);
  EXPECT_NEAR(shared.dof, 5.0, 1e-9);
  EXPECT_NEAR(shared.k, 2.65, 0.005);  // table G.2
  const Budget apart = combine({term(2.0, 5), term(2.0, 5), term(2.0, 5)});
  EXPECT_NEAR(apart.dof, 15.0, 1e-9);
}

struct ChainStep {
  double shown_kg;
  double u;
  double dof;
};

// A substitution chain of six steps with 10 t of class M1, resolution 1 kg, s = 0.9 kg of six
// readings, eccentricity 1.5e-4 of what is shown, rectangular; the formulas of EURAMET cg-18 (from
// memory, unverified). Figures of a script made apart from the project (numpy): a cross-check, no
// proof.
constexpr std::array<ChainStep, 6> kChain = {{{10004, 1.3549, 25.7},
                                              {20003, 2.4897, 32.5},
                                              {30004, 3.5041, 46.0},
                                              {40006, 4.4807, 62.7},
                                              {50011, 5.4401, 82.4},
                                              {60014, 6.3898, 105}}};

std::vector<Term> chain(int step, double shown_kg, bool shared) {
  const int estimate = shared ? 1 : 0;
  std::vector<Term> terms = {
      term(u_of_step(1.0)),
      term(u_of_step(1.0)),
      term(0.9, 5, Shape::student, estimate),
      term(u_of_limits(1.5e-4) * shown_kg, kInfinity, Shape::rectangular),
      term(step * 10000 * 5e-5 / std::sqrt(3.0)),
      term(step * 10000 * (0.1 * 1.2 / 8000 / std::sqrt(3.0) + 5e-5 / (4 * std::sqrt(3.0))))};
  for (int i = 1; i < step; ++i) {
    terms.push_back(term(std::sqrt(2.0) * 0.9, 5, Shape::student, estimate));
    terms.push_back(term(std::sqrt(2.0) * u_of_step(1.0)));
  }
  return terms;
}

TEST(Budget, OfASubstitutionChainAgreesWithOneMadeApart) {
  for (int step = 1; step <= 6; ++step) {
    const ChainStep& wanted = kChain[static_cast<std::size_t>(step - 1)];
    const Budget budget = combine(chain(step, wanted.shown_kg, true));
    EXPECT_NEAR(budget.u_kg, wanted.u, 5e-5);
    EXPECT_NEAR(budget.dof / wanted.dof, 1.0, 0.005);
    const Budget apart = combine(chain(step, wanted.shown_kg, false));
    EXPECT_GE(apart.dof, budget.dof * (1.0 - 1e-9));
  }
}

TEST(Budget, LeadsWithTheSharedEstimateAsOne) {
  const Budget budget =
      combine({term(1.0, 5, Shape::student, 1), term(1.0, 5, Shape::student, 1), term(1.2)});
  EXPECT_EQ(budget.leads, 0);
  EXPECT_NEAR(budget.leads_share, 2.0 / 3.44, 1e-12);
}

TEST(Budget, OfNothingIsNothing) {
  const Budget none = combine({});
  EXPECT_EQ(none.u_kg, 0.0);
  EXPECT_EQ(none.U_kg, 0.0);
  EXPECT_EQ(none.leads, -1);
  const Budget exact = combine({term(0.0, 4, Shape::rectangular)});
  EXPECT_EQ(exact.U_kg, 0.0);
  EXPECT_EQ(exact.leads, -1);
  EXPECT_FALSE(exact.rectangular);
}

// JCGM 100:2008, 7.2.6: 10.47 may be rounded up to 11; 28.05 should be rounded down to 28.
TEST(RoundedUncertainty, FollowsTheGuidesTwoExamples) {
  EXPECT_DOUBLE_EQ(round_uncertainty(10.47).value, 11.0);
  EXPECT_DOUBLE_EQ(round_uncertainty(28.05).value, 28.0);
  EXPECT_EQ(round_uncertainty(10.47).decimals, 0);
}

// Two significant digits (7.2.6), by hand.
TEST(RoundedUncertainty, HasTwoDigitsAndTheDecimalsForThem) {
  EXPECT_DOUBLE_EQ(round_uncertainty(0.00035).value, 0.00035);
  EXPECT_EQ(round_uncertainty(0.00035).decimals, 5);
  EXPECT_DOUBLE_EQ(round_uncertainty(0.1 + 0.02).value, 0.12);
  EXPECT_EQ(round_uncertainty(0.12).decimals, 2);
  EXPECT_DOUBLE_EQ(round_uncertainty(2.72).value, 2.8);
  EXPECT_EQ(round_uncertainty(2.72).decimals, 1);
  EXPECT_DOUBLE_EQ(round_uncertainty(0.996).value, 1.0);
  EXPECT_EQ(round_uncertainty(0.996).decimals, 1);
  EXPECT_DOUBLE_EQ(round_uncertainty(123.0).value, 130.0);
  EXPECT_EQ(round_uncertainty(123.0).decimals, 0);
  EXPECT_DOUBLE_EQ(round_uncertainty(1000.0).value, 1000.0);
  EXPECT_EQ(round_uncertainty(0.0).value, 0.0);
  EXPECT_EQ(round_uncertainty(kInfinity).value, 0.0);
}

}  // namespace
}  // namespace weighwright::proof
