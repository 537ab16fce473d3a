#pragma once
/// Loads that grow: each made from the one before by pieces that only come on, in the fewest
/// minutes.
///
/// Model   S_1 within S_2 within ... within S_n. Minutes: placement of the kinds in every increment
///         S_k \ S_(k-1), twice for k > 1 where the same loads are made going down as well, and
///         `lifts` times the piece minutes of S_n.
/// Method  dynamic programming over all loads of every step (exact) where these are few, with one
///         step left out where no chain goes through all; else from the top down and from below up,
///         each load from the pieces of its neighbour, and the better of the two.

#include <vector>

#include "proof/choose.h"

namespace weighwright::proof {

struct Nest {
  std::vector<Pieces> sets;  // made ones, growing
  std::vector<int> steps;    // which step each one is
  double minutes = 0.0;
  double bound = 0.0;
  bool exact = false;
};

struct NestQuestion {
  std::vector<LoadRange> steps;  // rising; the last must be made
  Pieces limit;                  // at most these
  bool last_is_limit = false;    // the last load is all of them
  bool down_too = false;
  double lifts = 2.0;
};

/// Empty sets: the last load can't be made.
[[nodiscard]] Nest nest(const Stock& stock, const NestQuestion& question);

}  // namespace weighwright::proof
