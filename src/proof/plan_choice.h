#pragma once
/// One set of kinds of handling for the whole plan: which pieces make every load with them.
///
/// Method  every set of kinds is tried (at most 31); with a set, tests do not bear upon one
/// another,
///         since the deck is emptied between them, and each is solved by itself. The least of
///         set-up and bounds over all sets is a bound of the whole.

#include "proof/build_options.h"
#include "proof/demands.h"
#include "proof/walk.h"

namespace weighwright::proof {

/// Loads of a group of demands.
struct MadeGroup {
  const DemandGroup* group = nullptr;
  std::vector<Choice> choices;  // by demand; not of a walk
  Walked walked;
  int lorries = 0;  // lorries of unknown mass for each of them; 0: pieces of the stock
};

struct Solution {
  bool possible = false;
  std::vector<MadeGroup> places;
  std::vector<MadeGroup> repeatability;
  std::vector<MadeGroup> extras;
  BuildUp build;
  std::vector<BuildUp> lower;  // of a scale with several ranges: of each but the last
  Change strain;
  int substitutions = 0;
  Kinds kinds = 0;
  double minutes = 0.0;  // with set-up
  double bound = 0.0;    // of plans with this set of kinds, all of them set up
};

struct Chosen {
  Solution best;
  double bound = 0.0;  // no plan with these standards is shorter
};

/// @param demands  such that every one can be made with all kinds
[[nodiscard]] Chosen choose_plan(const deck::Deck& deck,
                                 const Stock& stock,
                                 const Demands& demands,
                                 const BuildOptions& options);

/// Minutes of one placement with so many lorries that are in no list.
[[nodiscard]] double lorry_minutes(int lorries);

/// Whether the stock makes a load at all, or a lorry of unknown mass must.
[[nodiscard]] bool can_make(const Stock& stock, const Demand& demand);

}  // namespace weighwright::proof
