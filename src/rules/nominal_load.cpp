#include "rules/nominal_load.h"

#include <algorithm>

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

double judged_as_kg(const Rulebook& rulebook,
                    const Scale& scale,
                    Occasion occasion,
                    double load_kg) {
  std::vector<double> nominal = break_loads_kg(rulebook, scale);
  nominal.push_back(scale.capacity_kg);
  const auto counts_as = [&](double nominal_kg) {
    if (counts_of(load_kg) <= counts_of(nominal_kg)) return false;
    if (!is_at_most(rulebook, scale, occasion, load_kg, nominal_kg)) return false;
    const auto own = limit_at(rulebook, scale, occasion, load_kg);
    const auto at = limit_at(rulebook, scale, occasion, nominal_kg);
    return !own || (at && at->kg <= own->kg);
  };
  const auto found = std::find_if(nominal.begin(), nominal.end(), counts_as);
  return found == nominal.end() ? load_kg : *found;
}

}  // namespace weighwright::rules
