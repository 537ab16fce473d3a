#pragma once
/// The increasing and decreasing loads as one walk: weights alone, or weights and what is put in
/// their place step by step.
///
/// Substitution  with weights M: up to M, then material S1 until the scale shows the same, weights
///               off; weights on again to 2 M, and so on (R 76-1:2006, 3.7.3; metrology notes 2.5).
///               The deck is never emptied between, so zero is never set again: errors are carried
///               forward.
/// Down          the loads that were made going up, from the top: weights come off, and where all
///               are off they take the place of the last substitute again. The load only falls.
/// Exchange      going up, pieces only come on, except for a load that can't be made so: then other
///               pieces take the place of those that lie there.
/// Near zero     where the first load is no small one, discrimination near zero is looked at on the
///               empty deck.

#include <string>
#include <vector>

#include "proof/nest.h"
#include "rules/rulebook.h"

namespace weighwright::proof {

/// The last type of a stock: what is put in the place of weights, by vehicle or loader.
[[nodiscard]] PieceType substitute_type();

struct BuildTarget {
  double kg = 0.0;
  double least_kg = 0.0;  // what does as well
  double most_kg = 0.0;
  double best_least_kg = 0.0;  // what is taken where any pieces make it; 0, 0: all the same
  double best_most_kg = 0.0;
};

struct BuildQuestion {
  std::vector<BuildTarget> targets;  // rising, below the top
  BuildTarget top;
  int substitutions = 0;
  double least_weights_kg = 0.0;             // weights among it
  std::vector<double> decreasing_at_kg;      // at the loads nearest to these; empty: at every one
  bool goes_down = true;                     // false: no decreasing loads
  std::vector<double> discrimination_at_kg;  // at the loads nearest to these
  double added_d = 0.0;
  double small_kg = 0.0;  // up to this a load is near zero
};

struct BuildStep {
  rules::Check check = rules::Check::increasing;
  Pieces pieces;  // its last type: number of substitutes
  double weights_kg = 0.0;
  double load_kg = 0.0;
  double added_d = 0.0;
  double minutes = 0.0;
  Kinds kinds = 0;
  bool swap = false;      // substitutes were put in the place of all weights
  bool exchange = false;  // pieces came off that lie there at the load before
  bool from_empty = false;
  bool then_empty = false;
};

struct BuildUp {
  bool possible = false;
  std::vector<BuildStep> steps;
  std::vector<double> missed_kg;  // targets that these pieces can't make
  double weights_kg = 0.0;        // M
  double minutes = 0.0;           // without set-up
  double bound = 0.0;
  Kinds kinds = 0;
};

/// @param stock  its last type is substitute_type()
/// @param limit  pieces that may be used
[[nodiscard]] BuildUp build_up(const Stock& stock,
                               const Pieces& limit,
                               const BuildQuestion& question);

}  // namespace weighwright::proof
