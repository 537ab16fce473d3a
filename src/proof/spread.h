#pragma once
/// Repeated readings: their spread, and one spread from several loads.
///
/// Source  JCGM 100:2008, 4.2.2 eq. (4) (standard deviation); H.3.6 Note (pooled).

#include <span>

namespace weighwright::proof {

struct Spread {
  double mean = 0.0;
  double s = 0.0;      // experimental standard deviation; 0 with less than two readings
  double range = 0.0;  // greatest less least
  int count = 0;
};
[[nodiscard]] Spread spread_of(std::span<const double> readings);

struct PooledSpread {
  double s = 0.0;
  double dof = 0.0;  // 0: nothing was repeated
};
/// Where the spread is the same at every load. Sets of one reading say nothing and are left out.
[[nodiscard]] PooledSpread pooled(std::span<const Spread> spreads);

}  // namespace weighwright::proof
