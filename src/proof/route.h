#pragma once
/// The order of placements that costs least, where one leads to the next without unloading.
///
/// Model   the shortest path that visits every placement once, with a cost to begin at and to end
/// at
///         each one; costs are symmetric.
/// Method  exact by dynamic programming over subsets up to 12 placements (Held & Karp, J. SIAM 10
///         (1962) 196-210); else nearest neighbour, then turns of a part of the path (2-opt: Croes,
///         Operations Research 6 (1958) 791-812) and moves of one placement until none helps.
/// Bound   exact ones: the cost itself. Else the least spanning tree of placements and one point
///         outside, from which the path begins and to which it ends (1-tree: Held & Karp,
///         Operations Research 18 (1970) 1138-1162): a closed path is a 1-tree.

#include <vector>

namespace weighwright::proof {

struct RouteQuestion {
  std::vector<std::vector<double>> minutes;  // n x n, symmetric
  std::vector<double> begin;                 // n
  std::vector<double> end;                   // n
};

struct Route {
  std::vector<int> order;
  double minutes = 0.0;
  double bound = 0.0;
};

inline constexpr int kMostExactStops = 12;

[[nodiscard]] Route shortest_route(const RouteQuestion& question);

}  // namespace weighwright::proof
