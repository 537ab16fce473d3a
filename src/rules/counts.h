#pragma once
/// Masses as whole numbers of 10 micrograms: break points of limits are met exactly, and a verdict
/// does not hang on the last bit of a sum. The pound is 45 359 237 of them (0.453 592 37 kg, exact:
/// NIST SP 811, B.8).

#include <cstdint>

namespace weighwright::rules {

using Counts = std::int64_t;

inline constexpr double kCounts_per_kg = 1e8;

/// Rounded to the nearest; masses beyond 10 000 t either way are taken as 10 000 t, NaN as 0.
[[nodiscard]] Counts counts_of(double kg);
[[nodiscard]] double kg_of(Counts counts);

/// abs(value) <= limit, both as whole numbers: an error on its limit is within it.
[[nodiscard]] bool within(double value_kg, double limit_kg);

}  // namespace weighwright::rules
