#pragma once
/// The interval that holds a given share of sampled values.
///
/// Source  JCGM 101:2008, 7.7 (probabilistically symmetric: 7.7.2 note; shortest: 7.7.3), 5.3.4.

#include <span>

namespace weighwright::proof {

struct CoverageInterval {
  double low = 0.0;
  double high = 0.0;
};

/// @param values  at least 2; they are reordered
/// @param coverage  above 0, below 1
[[nodiscard]] CoverageInterval shortest_interval(std::span<double> values, double coverage);
[[nodiscard]] CoverageInterval symmetric_interval(std::span<double> values, double coverage);

}  // namespace weighwright::proof
