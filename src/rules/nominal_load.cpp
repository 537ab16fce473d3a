#include "rules/nominal_load.h"

#include <algorithm>
#include <iterator>

namespace weighwright::rules {

namespace {

constexpr double kShare = 1.0 / 3.0;  // of the limit: ours, see the header

}  // namespace

double nominal_allowance_kg(const Rulebook& rulebook,
                            const Scale& scale,
                            Occasion occasion,
                            double nominal_kg) {
  const auto limit = limit_at(rulebook, scale, occasion, nominal_kg);
  return limit ? kShare * limit->kg : 0.0;
}

bool is_at_most(const Rulebook& rulebook,
                const Scale& scale,
                Occasion occasion,
                double load_kg,
                double most_kg) {
  const double allowed_kg = nominal_allowance_kg(rulebook, scale, occasion, most_kg);
  return counts_of(load_kg) <= counts_of(most_kg + allowed_kg);
}

std::vector<double> nominal_loads_kg(const Rulebook& rulebook, const Scale& scale) {
  std::vector<double> nominal_kg = break_loads_kg(rulebook, scale);
  nominal_kg.push_back(scale.capacity_kg);
  return nominal_kg;
}

double judged_as_kg(const Rulebook& rulebook,
                    const Scale& scale,
                    Occasion occasion,
                    double load_kg,
                    const std::vector<double>& nominal_kg) {
  // Steps lie much further apart than what counts as one: only the next below can be meant.
  const auto above = std::lower_bound(
      nominal_kg.begin(), nominal_kg.end(), load_kg,
      [](double step_kg, double kg) { return counts_of(step_kg) < counts_of(kg); });
  if (above == nominal_kg.begin()) return load_kg;
  const double step_kg = *std::prev(above);
  if (!is_at_most(rulebook, scale, occasion, load_kg, step_kg)) return load_kg;
  const auto own = limit_at(rulebook, scale, occasion, load_kg);
  const auto at = limit_at(rulebook, scale, occasion, step_kg);
  return !own || (at && at->kg <= own->kg) ? step_kg : load_kg;
}

double judged_as_kg(const Rulebook& rulebook,
                    const Scale& scale,
                    Occasion occasion,
                    double load_kg) {
  return judged_as_kg(rulebook, scale, occasion, load_kg, nominal_loads_kg(rulebook, scale));
}

}  // namespace weighwright::rules
