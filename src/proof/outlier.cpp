#include "proof/outlier.h"

#include <algorithm>
#include <boost/math/distributions/fisher_f.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <cstddef>
#include <iterator>

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

double cochran_critical(int sets, int count, double alpha) {
  const boost::math::fisher_f fisher(count - 1, (sets - 1) * (count - 1));
  const double f = boost::math::quantile(boost::math::complement(fisher, alpha / sets));
  return 1.0 / (1.0 + (sets - 1) / f);
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

std::optional<OutlierTest> cochran(std::span<const double> deviations, int count, double alpha) {
  if (deviations.size() < 2 || count < 2) return std::nullopt;
  double sum = 0.0;
  for (const double s : deviations) sum += s * s;
  if (!(sum > 0.0)) return std::nullopt;
  const auto worst = std::max_element(deviations.begin(), deviations.end());
  OutlierTest test;
  test.index = static_cast<int>(std::distance(deviations.begin(), worst));
  test.statistic = *worst * *worst / sum;
  test.critical = cochran_critical(static_cast<int>(deviations.size()), count, alpha);
  test.flagged = test.statistic > test.critical;
  return test;
}

}  // namespace weighwright::proof
