#include "rules/numbers.h"

#include <cstddef>
#include <utility>

namespace weighwright::rules {

namespace {

std::string nth(const std::string& name, std::size_t i) {
  return name + "[" + std::to_string(i + 1) + "]";
}

class Listing {
 public:
  std::vector<Number> numbers;

  void add(std::string name, double value, const Source& source) {
    numbers.push_back({std::move(name), value, source});
  }
  /// Left out where it has no end.
  void add_end(std::string name, double value, const Source& source) {
    if (value != kNoEnd) add(std::move(name), value, source);
  }
  /// Left out where it is 0: not said.
  void add_said(std::string name, double value, const Source& source) {
    if (value != 0.0 && value != kNoEnd) add(std::move(name), value, source);
  }
  void add(std::string name, const Cited& cited) {
    if (!cited.source.clause.empty()) add(std::move(name), cited.value, cited.source);
  }
};

void list_band(Listing& list, const std::string& name, const IntervalBand& band) {
  list.add(name + ".least_kg", band.least_e_kg, band.source);
  list.add_end(name + ".most_kg", band.most_e_kg, band.source);
  list.add_said(name + ".least_lb", band.least_e_lb, band.source);
  list.add_said(name + ".most_lb", band.most_e_lb, band.source);
  list.add_said(name + ".n_min", band.n_min, band.source);
  list.add_said(name + ".n_max", band.n_max, band.source);
  list.add_said(name + ".least_load", band.least_load_e, band.source);
}

void list_class(Listing& list, const ClassRule& rule) {
  const std::string name = "class." + rule.name;
  for (std::size_t i = 0; i < rule.steps.size(); ++i) {
    const std::string step = nth(name + ".steps", i);
    list.add_end(step + ".up_to", rule.steps[i].up_to_d, rule.limits);
    list.add(step + ".limit", rule.steps[i].limit_d, rule.limits);
  }
  list.add_said(name + ".further.each", rule.further_each_d, rule.limits);
  list.add_said(name + ".further.limit", rule.further_limit_d, rule.limits);
  for (std::size_t i = 0; i < rule.bands.size(); ++i)
    list_band(list, nth(name + ".band", i), rule.bands[i]);
  list.add_said(name + ".ranges.least_n", rule.least_range_n, rule.ranges);
  list.add_said(name + ".breaks_down.from_n", rule.breaks_down_from_n, rule.breaks_down);
}

void list_tests(Listing& list, const Rulebook& rulebook) {
  for (const TestRule& rule : rulebook.tests) {
    const std::string name = "test." + std::string(code_of(rule.check));
    list.add(name + ".required", rule.required ? 1.0 : 0.0, rule.source);
    if (rule.range_within != RangeOf::none)
      list.add(name + ".range", static_cast<double>(rule.range_within), rule.range_source);
    for (const Stage stage : rule.digital_exempt)
      list.add(name + ".digital_exempt." + std::string(code_of(stage)), 1.0, rule.digital_source);
  }
}

void list_repeatability(Listing& list, const Rulebook& rulebook) {
  list.add("repeatability.count", rulebook.repeatability_count);
  for (std::size_t i = 0; i < rulebook.repeatability_shares.size(); ++i)
    list.add(nth("repeatability.at", i), rulebook.repeatability_shares[i],
             rulebook.repeatability_source);
  for (const StageRepeats& own : rulebook.repeatability_stages) {
    const std::string name = "repeatability." + std::string(code_of(own.stage));
    list.add(name + ".count", own.count);
    for (std::size_t i = 0; i < own.shares.size(); ++i)
      list.add(nth(name + ".at", i), own.shares[i], own.source);
  }
}

void list_loads(Listing& list, const Rulebook& rulebook) {
  list.add("zero.setting", rulebook.zero_setting_e);
  list.add("zero.return", rulebook.zero_return_e);
  list.add("zero.return_minutes", rulebook.zero_return_minutes);
  if (!rulebook.zero_return_dropped.clause.empty())
    list.add("zero.return.dropped", 1.0, rulebook.zero_return_dropped);
  list.add("zero.range_share", rulebook.zero_range_share);
  list.add("zero.tracking", rulebook.tracking_e);
  list.add("eccentric.share", rulebook.eccentric_share);
  list.add("eccentric.few_supports", rulebook.eccentric_few_supports);
  list.add("rolling.share", rulebook.rolling_share);
  list.add("section.share", rulebook.section_share);
  list.add("section.clc_share", rulebook.section_clc_share);
  list.add("section.pattern_length_m", rulebook.pattern_length_m);
  list.add("section.pattern_width_m", rulebook.pattern_width_m);
  list.add("increasing.loads", rulebook.increasing_loads);
  list.add("decreasing.share", rulebook.decreasing_share);
  list.add("decreasing.with_substitution", rulebook.decreasing_with_substitution);
  list_repeatability(list, rulebook);
  list.add("discrimination.added", rulebook.discrimination_added_d);
  list.add("discrimination.change", rulebook.discrimination_change_d);
  for (std::size_t i = 0; i < rulebook.discrimination_shares.size(); ++i)
    list.add(nth("discrimination.at", i), rulebook.discrimination_shares[i],
             rulebook.discrimination_source);
  list.add("tare.setting", rulebook.tare_setting_e);
  list.add("indications.apart", rulebook.indications_apart);
}

void list_standards(Listing& list, const Rulebook& rulebook) {
  list.add("standards.share", rulebook.standards_share);
  list.add("standards.least_kg", rulebook.least_standards_kg);
  list.add("standards.most_substitutions", rulebook.most_substitutions);
  for (std::size_t i = 0; i < rulebook.amounts.size(); ++i) {
    const std::string name = nth("standards.amounts", i);
    const AmountRow& row = rulebook.amounts[i];
    list.add_end(name + ".up_to_kg", row.up_to_kg, rulebook.amounts_source);
    list.add_said(name + ".up_to_lb", row.up_to_lb, rulebook.amounts_source);
    list.add(name + ".weights_share", row.weights_share, rulebook.amounts_source);
    list.add_said(name + ".weights_kg", row.weights_kg, rulebook.amounts_source);
    list.add_said(name + ".weights_lb", row.weights_lb, rulebook.amounts_source);
    list.add_said(name + ".load_share", row.load_share, rulebook.amounts_source);
  }
  for (std::size_t i = 0; i < rulebook.substitution.size(); ++i) {
    const std::string name = nth("standards.substitution", i);
    const SubstitutionStep& step = rulebook.substitution[i];
    list.add_end(name + ".repeatability", step.repeatability_e, rulebook.substitution_source);
    list.add(name + ".weights_share", step.weights_share, rulebook.substitution_source);
  }
  list.add("standards.substitution.weighings", rulebook.substitution_weighings);
}

}  // namespace

std::vector<Number> numbers_of(const Rulebook& rulebook) {
  Listing list;
  list.add("rounding.before", rulebook.before_rounding ? 1.0 : 0.0, rulebook.rounding);
  if (!rulebook.interval_series.clause.empty())
    list.add("interval_series", 1.0, rulebook.interval_series);
  for (const ClassRule& rule : rulebook.classes) list_class(list, rule);
  for (const OccasionRule& rule : rulebook.occasions)
    list.add("occasion." + std::string(code_of(rule.occasion)) + ".factor", rule.factor,
             rule.source);
  list_tests(list, rulebook);
  list_loads(list, rulebook);
  list_standards(list, rulebook);
  list.add("capacity.overload_e", rulebook.overload_e);
  list.add("capacity.overload_share", rulebook.overload_share);
  list.add("capacity.clc_sections_less", rulebook.clc_sections_less);
  list.add("errors.lean_share", rulebook.lean_share);
  return std::move(list.numbers);
}

}  // namespace weighwright::rules
