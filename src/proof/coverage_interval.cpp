#include "proof/coverage_interval.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace weighwright::proof {
namespace {

/// How many values apart the two ends are (q of 7.7.1). pM as it is computed may miss a whole
/// number by its last digit; rounding serves both cases of the clause.
std::size_t steps_apart(std::size_t count, double coverage) {
  const double steps = std::floor(coverage * static_cast<double>(count) + 0.5);
  return std::clamp<std::size_t>(static_cast<std::size_t>(steps), 1, count - 1);
}

/// Puts the `tail` least and the `tail` greatest in order; what lies between needs none.
void sort_tails(std::span<double> values, std::size_t tail) {
  if (2 * tail >= values.size()) {
    std::sort(values.begin(), values.end());
    return;
  }
  const auto from = values.begin() + static_cast<std::ptrdiff_t>(tail);
  const auto to = values.end() - static_cast<std::ptrdiff_t>(tail);
  std::nth_element(values.begin(), from, values.end());
  std::sort(values.begin(), from);
  std::nth_element(from, to, values.end());
  std::sort(to, values.end());
}

}  // namespace

CoverageInterval shortest_interval(std::span<double> values, double coverage) {
  const std::size_t steps = steps_apart(values.size(), coverage);
  const std::size_t tail = values.size() - steps;
  sort_tails(values, tail);
  std::size_t best = 0;
  for (std::size_t r = 1; r < tail; ++r) {
    if (values[r + steps] - values[r] < values[best + steps] - values[best]) best = r;
  }
  return {values[best], values[best + steps]};
}

CoverageInterval symmetric_interval(std::span<double> values, double coverage) {
  const std::size_t steps = steps_apart(values.size(), coverage);
  const std::size_t rank = (values.size() - steps + 1) / 2;  // counted from 1
  const auto low = values.begin() + static_cast<std::ptrdiff_t>(rank - 1);
  const auto high = low + static_cast<std::ptrdiff_t>(steps);
  std::nth_element(values.begin(), low, values.end());
  std::nth_element(low + 1, high, values.end());  // what is put in its place stays there
  return {*low, *high};
}

}  // namespace weighwright::proof
