#pragma once
/// Which pieces make a load in the fewest minutes.
///
/// Model   a bounded knapsack: counts n_i <= count_i with least <= sum kg_i n_i <= most, the least
///         of  placement of every kind used + lifts * sum piece_i n_i.
/// Method  depth-first branch and bound; bound: what is still lacking, at the cheapest minutes per
///         kg of what is left (the linear relaxation without the upper limit). It ends at a number
///         of nodes; `exact` says whether it came to its end, `bound` holds in any case.

#include <limits>
#include <optional>
#include <vector>

#include "proof/stock.h"

namespace weighwright::proof {

struct LoadRange {
  double want_kg = 0.0;  // among equals the nearest is taken
  double least_kg = 0.0;
  double most_kg = 0.0;
};

/// What may be used.
struct Allowed {
  Kinds kinds = ~0U;
  bool known_only = true;
  bool rolls_only = false;
  double most_along_m = std::numeric_limits<double>::infinity();
  double most_across_m = std::numeric_limits<double>::infinity();
};

struct Choice {
  Pieces pieces;
  double kg = 0.0;
  double minutes = 0.0;
  double bound = 0.0;  // no choice is cheaper
  bool exact = true;
};

/// Counts that may be used of every type.
[[nodiscard]] Pieces limits_of(const Stock& stock, const Allowed& allowed);

/// @param lifts  how often every piece is lifted: 2 for a load that comes on and off
/// @param limit  at most so many of each type
[[nodiscard]] std::optional<Choice> cheapest(const Stock& stock,
                                             const Pieces& limit,
                                             const LoadRange& range,
                                             double lifts = 2.0);

/// Loads within the range, at most `most` of them; `complete`: there are no others.
struct Choices {
  std::vector<Pieces> pieces;
  bool complete = true;
};
[[nodiscard]] Choices all_choices(const Stock& stock,
                                  const Pieces& limit,
                                  const LoadRange& range,
                                  int most);

/// Minutes to lift at least so much once can't be less: the cheapest pieces per kg first, the last
/// one in part (linear relaxation of the knapsack; Dantzig, Operations Research 5 (1957) 266-277).
[[nodiscard]] double least_lift_minutes(const Stock& stock, const Pieces& limit, double kg);
/// The cheapest placement of any of these kinds.
[[nodiscard]] double least_placement_minutes(const Stock& stock, const Pieces& limit);

/// The greatest load that can be made with these.
[[nodiscard]] double greatest_kg(const Stock& stock, const Pieces& limit);

}  // namespace weighwright::proof
