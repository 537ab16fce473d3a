#pragma once
/// The second half of the field trial: corners.

#include <cstdint>
#include <string>

namespace weighwright::bench {

struct CornerTrial {
  int sites = 100;
  std::uint64_t seed = 20260201;
  int from_modules = 1;
  int to_modules = 5;
  std::string only;  // name of a row; empty: all
};

/// Plays and prints every row.
void run_corner_trial(const CornerTrial& trial);

}  // namespace weighwright::bench
