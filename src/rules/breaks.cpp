// Loads at which limits step.
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "rules/bands.h"
#include "rules/limits.h"

namespace weighwright::rules {

namespace {

/// One weighing range, from just above `from` to `to`.
struct Part {
  Counts from = 0;
  Counts to = 0;
  double interval_kg = 0.0;
};

std::vector<Part> parts_of(const Scale& scale) {
  std::vector<Part> parts;
  Counts from = 0;
  for (const auto& [capacity_kg, interval_kg] : scale.ranges) {
    const Counts to = std::min(counts_of(capacity_kg), counts_of(scale.capacity_kg));
    parts.push_back({from, to, interval_kg});
    from = to;
  }
  if (parts.empty()) parts.push_back({0, counts_of(scale.capacity_kg), scale.interval_kg});
  return parts;
}

/// Ends of steps that lie in a part, its own end with them.
void add_candidates(const ClassRule& rule, const Part& part, std::vector<Counts>& loads) {
  constexpr double kMostDivisions = 1e6;  // beyond them no class of scales lies
  loads.push_back(part.to);
  if (kg_of(part.to) > kMostDivisions * part.interval_kg) return;
  Counts end = 0;
  for (const LimitStep& step : rule.steps) {
    if (step.up_to_d == kNoEnd) return;
    end = counts_of(step.up_to_d * part.interval_kg);
    if (end > part.from && end < part.to) loads.push_back(end);
  }
  const Counts each = counts_of(rule.further_each_d * part.interval_kg);
  if (each <= 0) return;
  for (end += each; end < part.to; end += each) {
    if (end > part.from) loads.push_back(end);
  }
}

bool steps_at(const Rulebook& rulebook, const Scale& scale, Counts load) {
  const std::optional<Limit> here = table_limit_at(rulebook, scale, kg_of(load));
  const std::optional<Limit> above = table_limit_at(rulebook, scale, kg_of(load + 1));
  return here && above && counts_of(here->kg) != counts_of(above->kg);
}

double intervals_of(const Scale& scale) {
  return scale.capacity_kg / interval_at_kg(scale, scale.capacity_kg);
}

}  // namespace

std::vector<double> break_loads_kg(const Rulebook& rulebook, const Scale& scale) {
  const ClassRule* const rule = rulebook.find_class(scale.accuracy_class);
  if (rule == nullptr) return {};
  std::vector<Counts> loads;
  for (const Part& part : parts_of(scale)) add_candidates(*rule, part, loads);
  std::sort(loads.begin(), loads.end());
  loads.erase(std::unique(loads.begin(), loads.end()), loads.end());
  std::vector<double> breaks;
  for (const Counts load : loads) {
    const bool inside = load > 0 && load < counts_of(scale.capacity_kg);
    if (inside && steps_at(rulebook, scale, load)) breaks.push_back(kg_of(load));
  }
  return breaks;
}

double least_load_kg(const Rulebook& rulebook, const Scale& scale) {
  const ClassRule* const rule = rulebook.find_class(scale.accuracy_class);
  if (rule == nullptr) return 0.0;
  const double interval_kg = interval_at_kg(scale, 0.0);
  const IntervalBand* const band = band_of(*rule, interval_kg, scale.us);
  return band == nullptr ? 0.0 : band->least_load_e * interval_kg;
}

std::vector<double> decreasing_loads_kg(const Rulebook& rulebook,
                                        const Scale& scale,
                                        double greatest_kg) {
  const ClassRule* const rule = rulebook.find_class(scale.accuracy_class);
  if (rule == nullptr) return {};
  std::vector<double> loads;
  if (rule->breaks_down_from_n > 0.0 && intervals_of(scale) >= rule->breaks_down_from_n) {
    for (const double load_kg : break_loads_kg(rulebook, scale)) {
      if (counts_of(load_kg) < counts_of(greatest_kg)) loads.push_back(load_kg);
    }
  }
  if (loads.empty() && rulebook.decreasing_share.value > 0.0)
    loads.push_back(rulebook.decreasing_share.value * greatest_kg);
  std::reverse(loads.begin(), loads.end());
  return loads;
}

}  // namespace weighwright::rules
