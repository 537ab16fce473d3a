#include "proof/sampling.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "proof/coverage_interval.h"

// outside check: mean, spread and limits of what is drawn; rectangles with inexact limits | JCGM
//  101:2008, 6.4.2, 6.4.3.3, 6.4.5, 6.4.6 and 6.4.7
// outside check: scaled Student draws | JCGM 101:2008, 6.4.9.4; quantiles by JCGM 100:2008, table
//  G.2
// outside check: readings that share one estimated deviation | moments of 1/chi-square (Johnson,
//  Kotz & Balakrishnan, *Continuous Univariate Distributions* 1; from memory, unverified)
// outside check: coverage intervals: symmetric and shortest | JCGM 101:2008, 7.7.2, by hand

namespace weighwright::proof {
namespace {

constexpr int kCount = 400'000;

struct Moments {
  double mean = 0.0;
  double u = 0.0;
  double least = 0.0;
  double greatest = 0.0;
};

Moments moments(std::span<const double> values) {
  Moments of;
  for (const double value : values) of.mean += value / static_cast<double>(values.size());
  for (const double value : values) of.u += (value - of.mean) * (value - of.mean);
  of.u = std::sqrt(of.u / static_cast<double>(values.size() - 1));
  const auto [least, greatest] = std::minmax_element(values.begin(), values.end());
  of.least = *least;
  of.greatest = *greatest;
  return of;
}

Moments drawn(const Input& input) {
  std::vector<double> values(kCount);
  Sampler sampler(std::span(&input, 1), 7);
  sampler.draw(kCount, values);
  return moments(values);
}

// Expectation and variance of each: JCGM 101:2008, 6.4.2 (rectangular), 6.4.5 (triangular), 6.4.6
// (arc sine), 6.4.7 (Gaussian). Tolerances: five standard deviations of a mean and of a standard
// deviation of so many draws, 5/sqrt(4e5) = 0.008, and less for the flat ones.
TEST(Draws, HaveTheMeanAndSpreadOfTheirDistribution) {
  for (const Shape shape : {Shape::normal, Shape::rectangular, Shape::triangular, Shape::arcsine}) {
    const Moments of = drawn({shape, 10.0, 1.0, 0.0, 0, 0.0});
    EXPECT_NEAR(of.mean, 10.0, 0.008) << static_cast<int>(shape);
    EXPECT_NEAR(of.u, 1.0, 0.006) << static_cast<int>(shape);
  }
}

// Half widths: a/sqrt 3, a/sqrt 6, a/sqrt 2 are the standard deviations
// (6.4.2.3, 6.4.5.3, 6.4.6.3).
TEST(Draws, StayWithinTheirLimits) {
  const Moments flat = drawn({Shape::rectangular, 0.0, 1.0, 0.0, 0, 0.0});
  EXPECT_LE(flat.greatest, std::sqrt(3.0));
  EXPECT_NEAR(flat.least, -std::sqrt(3.0), 1e-3);
  const Moments triangle = drawn({Shape::triangular, 0.0, 1.0, 0.0, 0, 0.0});
  EXPECT_LE(triangle.greatest, std::sqrt(6.0));
  EXPECT_NEAR(triangle.least, -std::sqrt(6.0), 0.03);
  const Moments wave = drawn({Shape::arcsine, 0.0, 1.0, 0.0, 0, 0.0});
  EXPECT_LE(wave.greatest, std::sqrt(2.0));
  EXPECT_NEAR(wave.least, -std::sqrt(2.0), 1e-6);
}

// 6.4.3.3, limits known to within d: variance (b - a)^2/12 + d^2/9 (eq. (5) of the clause).
TEST(Draws, OfARectangleWithInexactLimitsAreWider) {
  const Moments of = drawn({Shape::rectangular, 0.0, 1.0 / std::sqrt(3.0), 0.0, 0, 0.5});
  EXPECT_NEAR(of.u, std::sqrt(4.0 / 12.0 + 0.25 / 9.0), 0.004);
  EXPECT_LE(of.greatest, 1.5);
  EXPECT_GT(of.greatest, 1.45);
}

// 6.4.9.4: variance of scaled t is nu/(nu - 2) u^2; quantiles by JCGM 100:2008, table G.2.
TEST(Draws, OfStudentHaveItsTails) {
  const Input input{Shape::student, 0.0, 1.0, 5.0, 0, 0.0};
  std::vector<double> values(kCount);
  Sampler sampler(std::span(&input, 1), 3);
  sampler.draw(kCount, values);
  EXPECT_NEAR(moments(values).u, std::sqrt(5.0 / 3.0), 0.02);
  const CoverageInterval half = symmetric_interval(values, 0.95);
  EXPECT_NEAR(half.high, 2.57, 0.03);
  EXPECT_NEAR(half.low, -2.57, 0.03);
  EXPECT_NEAR(symmetric_interval(values, 0.99).high, 4.03, 0.08);
}

// Few degrees of freedom: the gamma of shape one half (nu = 1, table G.2: 12.71).
TEST(Draws, OfStudentWithOneDegreeOfFreedomToo) {
  const Input input{Shape::student, 0.0, 1.0, 1.0, 0, 0.0};
  std::vector<double> values(kCount);
  Sampler sampler(std::span(&input, 1), 4);
  sampler.draw(kCount, values);
  EXPECT_NEAR(symmetric_interval(values, 0.95).high, 12.71, 0.4);
  EXPECT_NEAR(symmetric_interval(values, 0.90).high, 6.31, 0.15);
}

/// The ratio of the mean square product to what independent draws would have.
double spread_in_common(int first, int second) {
  const std::vector<Input> inputs = {{Shape::student, 0.0, 1.0, 10.0, first, 0.0},
                                     {Shape::student, 0.0, 1.0, 10.0, second, 0.0}};
  std::vector<double> values(2 * kCount);
  Sampler sampler(inputs, 5);
  sampler.draw(kCount, values);
  double squares = 0.0;
  for (std::size_t t = 0; t < kCount; ++t) {
    squares += values[t] * values[t] * values[kCount + t] * values[kCount + t] / kCount;
  }
  return squares / (10.0 / 8.0 * 10.0 / 8.0);
}

// Two readings of one unknown standard deviation: E[x^2 y^2] = nu^2 / ((nu - 2)(nu - 4)), which is
// (nu - 2)/(nu - 4) = 1.333 times that of two unknown ones (moments of 1/chi-square; Johnson, Kotz
// & Balakrishnan, Continuous Univariate Distributions 1, from memory, unverified).
TEST(Draws, OfOneEstimateShareItsSpread) {
  EXPECT_NEAR(spread_in_common(1, 1), 8.0 / 6.0, 0.05);
  EXPECT_NEAR(spread_in_common(1, 2), 1.0, 0.05);
  EXPECT_NEAR(spread_in_common(0, 0), 1.0, 0.05);
}

TEST(Draws, RepeatAndDoNotDependOnHowTheyAreCut) {
  const std::vector<Input> inputs = {{Shape::student, 0.0, 1.0, 3.0, 1, 0.0},
                                     {Shape::normal, 0.0, 1.0, 0.0, 0, 0.0}};
  std::vector<double> whole(2 * 10);
  Sampler(inputs, 9).draw(10, whole);
  Sampler cut(inputs, 9);
  std::vector<double> first(2 * 4);
  std::vector<double> second(2 * 6);
  cut.draw(4, first);
  cut.draw(6, second);
  for (std::size_t t = 0; t < 10; ++t) {
    EXPECT_EQ(whole[t], t < 4 ? first[t] : second[t - 4]);
    EXPECT_EQ(whole[10 + t], t < 4 ? first[4 + t] : second[6 + t - 4]);
  }
  std::vector<double> other(2 * 10);
  Sampler(inputs, 10).draw(10, other);
  EXPECT_NE(whole, other);
}

// 7.7.2, by hand on 1..20: p = 0.8: q = 16, symmetric r = 2: [2, 18]; q = 15 of p = 0.75, r =
// int(6/2) = 3.
TEST(CoverageIntervals, CountAsTheSupplementDoes) {
  std::vector<double> values;
  for (int i = 20; i > 0; --i) values.push_back(i);
  EXPECT_EQ(symmetric_interval(values, 0.8).low, 2.0);
  EXPECT_EQ(symmetric_interval(values, 0.8).high, 18.0);
  EXPECT_EQ(symmetric_interval(values, 0.75).low, 3.0);
  EXPECT_EQ(symmetric_interval(values, 0.75).high, 18.0);
}

// The shortest of all that hold 4 steps, by hand: 5..9 in squares, where growth is least.
TEST(CoverageIntervals, FindTheShortest) {
  std::vector<double> values = {100, 0, 81, 1, 64, 4, 49, 9, 36, 16};
  const CoverageInterval shortest = shortest_interval(values, 0.4);
  EXPECT_EQ(shortest.low, 0.0);
  EXPECT_EQ(shortest.high, 16.0);
  std::vector<double> two = {3.0, 1.0};
  EXPECT_EQ(shortest_interval(two, 0.95).low, 1.0);
  EXPECT_EQ(shortest_interval(two, 0.95).high, 3.0);
}

}  // namespace
}  // namespace weighwright::proof
