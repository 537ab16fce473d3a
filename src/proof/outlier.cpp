#include "proof/outlier.h"

#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <cstddef>

#include "proof/spread.h"

namespace weighwright::proof {
namespace {

constexpr int kPowerless = 3;

double grubbs_critical(int count, double alpha, Sides sides) {
  const double tail = alpha / (sides == Sides::two ? 2.0 * count : count);
  const boost::math::students_t student(count - 2);
  const double t = boost::math::quantile(boost::math::complement(student, tail));
  return (count - 1) / std::sqrt(count) * std::sqrt(t * t / (count - 2 + t * t));
}

}  // namespace

std::optional<OutlierTest> grubbs(std::span<const double> readings, double alpha, Sides sides) {
  const Spread spread = spread_of(readings);
  if (spread.count < kPowerless || !(spread.s > 0.0)) return std::nullopt;
  OutlierTest test;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const double away = std::abs(readings[i] - spread.mean) / spread.s;
    if (away <= test.statistic) continue;
    test.statistic = away;
    test.index = static_cast<int>(i);
  }
  test.critical = grubbs_critical(spread.count, alpha, sides);
  test.powerless = spread.count == kPowerless;
  test.flagged = !test.powerless && test.statistic > test.critical;
  return test;
}

}  // namespace weighwright::proof
