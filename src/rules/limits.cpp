#include "rules/limits.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace weighwright::rules {

namespace {

/// Limit in divisions for a load by the steps of a class, all in whole numbers; empty: none for so
/// many divisions.
std::optional<double> divisions_at(const ClassRule& rule, Counts load, double interval_kg) {
  for (const LimitStep& step : rule.steps) {
    if (step.up_to_d == kNoEnd || load <= counts_of(step.up_to_d * interval_kg))
      return step.limit_d;
  }
  if (rule.steps.empty() || rule.further_each_d <= 0.0) return std::nullopt;
  const LimitStep& last = rule.steps.back();
  const Counts beyond = load - counts_of(last.up_to_d * interval_kg);
  const Counts each = counts_of(rule.further_each_d * interval_kg);
  if (each <= 0) return std::nullopt;
  const Counts begun = (beyond + each - 1) / each;  // "or fraction thereof"
  return last.limit_d + static_cast<double>(begun) * rule.further_limit_d;
}

std::optional<Limit> times(std::optional<Limit> limit, const OccasionRule* rule) {
  if (!limit || rule == nullptr) return std::nullopt;
  limit->factor = rule->factor;
  limit->factor_source = rule->source;
  limit->kg *= rule->factor;
  limit->divisions *= rule->factor;
  return limit;
}

/// A number of divisions of the first interval; 0 divisions mean the smallest limit.
std::optional<Limit> zero_limit(const Cited& divisions,
                                const Rulebook& rulebook,
                                const Scale& scale,
                                Occasion occasion) {
  if (divisions.source.clause.empty()) return std::nullopt;
  if (divisions.value == 0.0) {
    std::optional<Limit> limit = limit_at(rulebook, scale, occasion, 0.0);
    if (limit) limit->source = divisions.source;
    return limit;
  }
  const double interval_kg = interval_at_kg(scale, 0.0);
  if (!(interval_kg > 0.0)) return std::nullopt;
  return Limit{.kg = divisions.value * interval_kg,
               .divisions = divisions.value,
               .interval_kg = interval_kg,
               .factor = 1.0,
               .source = divisions.source,
               .factor_source = {}};
}

}  // namespace

int range_count(const Scale& scale) {
  return scale.multiple_range && !scale.ranges.empty() ? static_cast<int>(scale.ranges.size()) : 1;
}

Scale in_range(const Scale& scale, int range) {
  if (!scale.multiple_range || scale.ranges.empty()) return scale;
  const int last = static_cast<int>(scale.ranges.size()) - 1;
  const auto& [capacity_kg, interval_kg] =
      scale.ranges[static_cast<std::size_t>(std::clamp(range, 0, last))];
  Scale one = scale;
  one.capacity_kg = capacity_kg;
  one.interval_kg = interval_kg;
  one.ranges.clear();
  one.multiple_range = false;
  return one;
}

int smallest_range_for(const Scale& scale, double load_kg) {
  const int count = range_count(scale);
  for (int i = 0; i + 1 < count; ++i) {
    const double capacity_kg = scale.ranges[static_cast<std::size_t>(i)].first;
    if (counts_of(load_kg) <= counts_of(capacity_kg)) return i;
  }
  return count - 1;
}

double interval_at_kg(const Scale& scale, double load_kg) {
  for (const auto& [capacity_kg, interval_kg] : scale.ranges) {
    if (counts_of(load_kg) <= counts_of(capacity_kg)) return interval_kg;
  }
  return scale.ranges.empty() ? scale.interval_kg : scale.ranges.back().second;
}

std::optional<Limit> table_limit_at(const Rulebook& rulebook, const Scale& scale, double load_kg) {
  const ClassRule* const rule = rulebook.find_class(scale.accuracy_class);
  const double interval_kg = interval_at_kg(scale, load_kg);
  const Counts load = counts_of(load_kg);
  if (rule == nullptr || std::isnan(load_kg) || counts_of(interval_kg) <= 0 || load < 0)
    return std::nullopt;
  const std::optional<double> divisions = divisions_at(*rule, load, interval_kg);
  if (!divisions) return std::nullopt;
  return Limit{.kg = *divisions * interval_kg,
               .divisions = *divisions,
               .interval_kg = interval_kg,
               .factor = 1.0,
               .source = rule->limits,
               .factor_source = {}};
}

std::optional<Limit> limit_at(const Rulebook& rulebook,
                              const Scale& scale,
                              Occasion occasion,
                              double load_kg) {
  return times(table_limit_at(rulebook, scale, load_kg), rulebook.find_occasion(occasion));
}

std::optional<Limit> range_limit_at(
    const Rulebook& rulebook, const Scale& scale, Occasion occasion, Check check, double load_kg) {
  const TestRule* const test = rulebook.find_test(check);
  if (test == nullptr || test->range_within == RangeOf::none) return std::nullopt;
  std::optional<Limit> limit = test->range_within == RangeOf::table
                                   ? table_limit_at(rulebook, scale, load_kg)
                                   : limit_at(rulebook, scale, occasion, load_kg);
  if (limit) limit->source = test->range_source;
  return limit;
}

std::optional<Limit> zero_setting_limit(const Rulebook& rulebook,
                                        const Scale& scale,
                                        Occasion occasion) {
  return zero_limit(rulebook.zero_setting_e, rulebook, scale, occasion);
}

std::optional<Limit> zero_return_limit(const Rulebook& rulebook,
                                       const Scale& scale,
                                       Occasion occasion) {
  if (!rulebook.zero_return_dropped.clause.empty()) return std::nullopt;
  return zero_limit(rulebook.zero_return_e, rulebook, scale, occasion);
}

}  // namespace weighwright::rules
