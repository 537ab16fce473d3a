#include "proof/spread.h"

#include <algorithm>
#include <cmath>

namespace weighwright::proof {

Spread spread_of(std::span<const double> readings) {
  Spread spread;
  spread.count = static_cast<int>(readings.size());
  if (readings.empty()) return spread;
  for (const double reading : readings) spread.mean += reading;
  spread.mean /= spread.count;
  const auto [least, greatest] = std::minmax_element(readings.begin(), readings.end());
  spread.range = *greatest - *least;
  if (spread.count < 2) return spread;
  double squares = 0.0;
  for (const double reading : readings)
    squares += (reading - spread.mean) * (reading - spread.mean);
  spread.s = std::sqrt(squares / (spread.count - 1));
  return spread;
}

PooledSpread pooled(std::span<const Spread> spreads) {
  PooledSpread all;
  double squares = 0.0;
  for (const Spread& spread : spreads) {
    if (spread.count < 2) continue;
    all.dof += spread.count - 1;
    squares += (spread.count - 1) * spread.s * spread.s;
  }
  if (all.dof > 0.0) all.s = std::sqrt(squares / all.dof);
  return all;
}

}  // namespace weighwright::proof
