#pragma once
/// Which increasing loads a test needs: one answer for the plan and for what a verdict misses.
///
/// Loads   Min where the class has one, the loads at which limits step, and the greatest load (Max
///         where the rulebook asks for it). A load at a step is still judged by the lower limit,
///         and so is one that counts as the step (rules/nominal_load.h).
/// Many    a class whose limit steps every 500 d (HB 44, Table 6, III L) would ask for dozens: the
///         first two steps, where the limits are tightest, and a few spread over the rest (common
///         practice, no source); for these any load does that is nearer to it than to the next.
/// Near    a load stands for a step from 2 % below it (there the lower limit judges it as well, and
///         an error of span is 2 % smaller) up to what counts as the step; one above that is judged
///         by the next limit and is another line. For Min from 2 % below to a tenth above, for the
///         greatest from 2 % below. (R 76-1:2006, A.4.4.1, from memory, unverified: loads at or
///         near those where the limit changes; how near is common practice, no source.)

#include <vector>

#include "rules/limits.h"

namespace weighwright::proof {

struct IncreasingLoad {
  enum class Kind { least, step, greatest };
  Kind kind = Kind::step;
  double kg = 0.0;
  double least_kg = 0.0;  // loads from this
  double most_kg = 0.0;   // to this do as well
  [[nodiscard]] bool is_met_by(double load_kg) const;
};

/// At most so many loads at steps, apart from Min and the greatest.
inline constexpr int kMostSteps = 5;

/// A load of the way down that is stated as a share of the greatest: so far off does, since blocks
/// seldom make the half of an odd number (common practice, no source).
inline constexpr double kNearShare = 0.15;

/// @param greatest_kg  the greatest load that is known: of weights, and of substitutes that were
///                     measured by them; steps above it can't be asked for
/// @param occasion     of the test: what counts as a step depends on the limit there
/// @return rising, the greatest load last; empty where `greatest_kg` is not above zero
[[nodiscard]] std::vector<IncreasingLoad> increasing_loads(const rules::Rulebook& rulebook,
                                                           const rules::Scale& scale,
                                                           rules::Occasion occasion,
                                                           double greatest_kg);

}  // namespace weighwright::proof
