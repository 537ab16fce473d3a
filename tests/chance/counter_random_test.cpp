#include "chance/counter_random.h"

#include <gtest/gtest.h>

#include <array>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/normal.hpp>
#include <cmath>

// outside check: normal quantile, chi-square | Boost.Math 1.74

namespace weighwright::chance {
namespace {

// Reference: Boost.Math, normal distribution.
TEST(NormalQuantile, AgreesWithBoostMath) {
  const boost::math::normal normal;
  for (int i = 1; i < 2000; ++i) {
    const double p = i / 2000.0;
    const double expected = boost::math::quantile(normal, p);
    EXPECT_NEAR(normal_quantile(p), expected, 1e-12 * std::max(std::abs(expected), 1e-3)) << p;
  }
  for (double p = 0.1; p > 1e-300; p *= 0.03) {
    const double expected = boost::math::quantile(normal, p);
    EXPECT_NEAR(normal_quantile(p), expected, 1e-12 * std::abs(expected)) << p;
  }
}

TEST(NormalProbability, AgreesWithBoostMath) {
  const boost::math::normal normal;
  for (double z = -8.0; z <= 8.0; z += 0.05) {
    const double expected = boost::math::cdf(normal, z);
    EXPECT_NEAR(normal_probability(z), expected, 1e-12 * expected) << z;
  }
}

// By hand: index 1, 2, 3, ... written in the base, digits mirrored at the point.
TEST(Halton, StartsAsByHand) {
  const std::array<double, 7> base2 = {1.0 / 2, 1.0 / 4, 3.0 / 4, 1.0 / 8,
                                       5.0 / 8, 3.0 / 8, 7.0 / 8};
  const std::array<double, 7> base3 = {1.0 / 3, 2.0 / 3, 1.0 / 9, 4.0 / 9,
                                       7.0 / 9, 2.0 / 9, 5.0 / 9};
  for (std::size_t i = 0; i < base2.size(); ++i) {
    EXPECT_NEAR(halton(i, 0, 0.0), base2[i], 1e-15);
    EXPECT_NEAR(halton(i, 1, 0.0), base3[i], 1e-15);
  }
}

TEST(Halton, IsShiftedModuloOne) {
  EXPECT_NEAR(halton(2, 0, 0.5), 0.25, 1e-15);   // 3/4 + 1/2 - 1
  EXPECT_NEAR(halton(0, 0, 0.25), 0.75, 1e-15);  // 1/2 + 1/4
  for (std::uint64_t i = 0; i < 1000; ++i) {
    const double u = halton(i, 3, 1.0 - halton(i, 3, 0.0));  // lands on 0 or 1
    EXPECT_GT(u, 0.0);
    EXPECT_LT(u, 1.0);
  }
}

// SplitMix64 with seed 1234567, as published with the algorithm's public test vector
// (first outputs 6457827717110365317, 3203168211198807973): from memory, unverified.
TEST(CounterRandom, IsTheKnownMixingFunction) {
  CounterRandom random(1234567);
  EXPECT_EQ(random.bits(), 6457827717110365317ULL);
  EXPECT_EQ(random.bits(), 3203168211198807973ULL);
}

TEST(CounterRandom, RepeatsForTheSameKey) {
  CounterRandom one(42);
  CounterRandom two(42);
  CounterRandom other(43);
  bool differs = false;
  for (int i = 0; i < 100; ++i) {
    const double value = one.normal();
    EXPECT_EQ(value, two.normal());
    differs |= value != other.normal();
  }
  EXPECT_TRUE(differs);
}

TEST(CounterRandom, IsUniformBetweenNoughtAndOne) {
  CounterRandom random(2);
  std::array<int, 100> bins{};
  constexpr int kDraws = 100000;
  for (int i = 0; i < kDraws; ++i) {
    const double u = random.uniform();
    ASSERT_GT(u, 0.0);
    ASSERT_LT(u, 1.0);
    ++bins[static_cast<std::size_t>(u * 100.0)];
  }
  double chi2 = 0.0;
  for (const int count : bins) chi2 += std::pow(count - kDraws / 100.0, 2) / (kDraws / 100.0);
  const boost::math::chi_squared law(99.0);
  EXPECT_LT(chi2, boost::math::quantile(boost::math::complement(law, 1e-4)));
  EXPECT_GT(chi2, boost::math::quantile(law, 1e-4));
}

TEST(CounterRandom, StaysBelowItsBound) {
  CounterRandom random(3);
  std::array<int, 7> seen{};
  for (int i = 0; i < 7000; ++i) {
    const int value = random.below(7);
    ASSERT_GE(value, 0);
    ASSERT_LT(value, 7);
    ++seen[static_cast<std::size_t>(value)];
  }
  for (const int count : seen) EXPECT_NEAR(count, 1000, 150);  // binomial: 5 sigma = 146
}

// FNV-1a, 64 bit: offset basis for nothing, "a" and "foobar" as in the published test vectors
// (Fowler, Noll & Vo; IETF draft-eastlake-fnv): af63dc4c8601ec8c, 85944171f73967e8.
TEST(SeedHash, IsFnv1a) {
  SeedHash empty;
  EXPECT_EQ(empty.value(), 0xcbf29ce484222325ULL);
  SeedHash a;
  a.add(std::string_view("a"));
  EXPECT_EQ(a.value(), 0xaf63dc4c8601ec8cULL);
  SeedHash foobar;
  foobar.add(std::string_view("foobar"));
  EXPECT_EQ(foobar.value(), 0x85944171f73967e8ULL);
}

}  // namespace
}  // namespace weighwright::chance
