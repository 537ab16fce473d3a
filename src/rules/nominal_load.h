#pragma once
/// Whether a load counts as the nominal load that it stands for: a step of the limits, Max, the
/// CLC.
///
/// Why        certified weights stand around their nominal values, and a substitute never weighs
/// the
///            round figure: sixty weights of 1000.012 kg are meant to be Max of a 60 t scale.
/// Allowance  a third of the limit of error at the nominal load, either way. It is ours and no
///            document's; its size is that of the third which R 76-1:2006, 3.7.1 leaves to the
///            error of weights (as quoted by OIML Bulletin 1994/02).
/// Limits     a load just above a step of the limits that counts as the step is judged by the limit
///            at the step, the tighter of the two. Its error is always that of its own value.
/// Beyond     the allowance it is another load: judged by its own limit, and above Max refused.

#include <vector>

#include "rules/limits.h"

namespace weighwright::rules {

/// Half width, kg; 0 where the rulebook has no limit there.
[[nodiscard]] double nominal_allowance_kg(const Rulebook& rulebook,
                                          const Scale& scale,
                                          Occasion occasion,
                                          double nominal_kg);

/// Not above `most_kg`, or so little that it counts as it.
[[nodiscard]] bool is_at_most(const Rulebook& rulebook,
                              const Scale& scale,
                              Occasion occasion,
                              double load_kg,
                              double most_kg);

/// Steps of the limits and Max, rising.
[[nodiscard]] std::vector<double> nominal_loads_kg(const Rulebook& rulebook, const Scale& scale);

/// The load whose limits judge a load: the step of the limits, or Max, that it counts as and lies
/// above; else itself.
/// @param nominal_kg  nominal_loads_kg, where it is asked often
[[nodiscard]] double judged_as_kg(const Rulebook& rulebook,
                                  const Scale& scale,
                                  Occasion occasion,
                                  double load_kg,
                                  const std::vector<double>& nominal_kg);
[[nodiscard]] double judged_as_kg(const Rulebook& rulebook,
                                  const Scale& scale,
                                  Occasion occasion,
                                  double load_kg);

}  // namespace weighwright::rules
