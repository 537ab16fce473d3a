#pragma once
/// A walk from section to section without unloading: which pieces make its loads, and in which
/// order the sections follow.

#include "proof/demands.h"

namespace weighwright::proof {

struct Walked {
  std::vector<int> order;       // indices of demands
  std::vector<Pieces> pieces;   // by demand
  std::vector<Change> changes;  // by position in the order; the last with the unloading
  double minutes = 0.0;
  double bound = 0.0;
  Kinds kinds = 0;
};

/// Demands of one range are made with the same pieces. Empty order: a load can't be made.
[[nodiscard]] Walked walk(const deck::Deck& deck,
                          const Stock& stock,
                          const std::vector<Demand>& demands,
                          Kinds kinds);

}  // namespace weighwright::proof
