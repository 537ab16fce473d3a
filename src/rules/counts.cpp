#include "rules/counts.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace weighwright::rules {

Counts counts_of(double kg) {
  constexpr double kMost_kg = 1e7;
  if (std::isnan(kg)) return 0;
  return std::llround(std::clamp(kg, -kMost_kg, kMost_kg) * kCounts_per_kg);
}

double kg_of(Counts counts) {
  return static_cast<double>(counts) / kCounts_per_kg;
}

bool within(double value_kg, double limit_kg) {
  if (std::isnan(value_kg) || std::isnan(limit_kg)) return false;
  return std::abs(counts_of(value_kg)) <= counts_of(limit_kg);
}

}  // namespace weighwright::rules
