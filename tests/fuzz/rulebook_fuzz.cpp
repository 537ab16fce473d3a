#include <cmath>
#include <string>

#include "fuzz/entry.h"
#include "rules/reading/read_rulebook.h"
#include "units/diagnostic.h"

namespace weighwright::fuzz {

namespace {

/// What limits and amounts rely on in a rulebook that was read without a fault.
void hold_class(const rules::ClassRule& rule) {
  hold(!rule.name.empty() && !rule.steps.empty() && !rule.limits.clause.empty());
  double before_d = 0.0;
  for (const rules::LimitStep& step : rule.steps) {
    hold(step.up_to_d > before_d && std::isfinite(step.limit_d) && step.limit_d > 0.0);
    before_d = step.up_to_d;
  }
  hold((rule.further_each_d > 0.0) == (rule.further_limit_d > 0.0));
  for (const rules::IntervalBand& band : rule.bands) {
    hold(band.least_e_kg >= 0.0 && band.most_e_kg >= band.least_e_kg);
    hold(band.n_min >= 0.0 && band.n_max >= band.n_min);
  }
}

void hold_rulebook(const rules::Rulebook& rulebook) {
  hold(!rulebook.code.empty() && (rulebook.division == "e" || rulebook.division == "d"));
  hold(!rulebook.classes.empty() && !rulebook.occasions.empty());
  for (const rules::ClassRule& rule : rulebook.classes) {
    hold_class(rule);
    hold(rulebook.find_class(rule.name) == &rule);
    hold(units::is_utf8(rulebook.cite(rule.limits)));
  }
  for (const rules::OccasionRule& rule : rulebook.occasions) {
    hold(std::isfinite(rule.factor) && rule.factor > 0.0);
    hold(rulebook.find_occasion(rule.occasion) == &rule);
  }
  for (const rules::TestRule& rule : rulebook.tests) {
    hold(rules::find_check(rules::code_of(rule.check)) == rule.check);
    hold(units::is_utf8(rulebook.cite(rule.source)) && units::is_utf8(rule.name));
  }
}

}  // namespace

void read_rulebook(std::string_view bytes) {
  const rules::ReadRulebook read = rules::read_rulebook(bytes, "rulebook.toml");
  hold(read.rulebook.has_value() == read.faults.empty());
  for (const units::Diagnostic& fault : read.faults) {
    hold(units::is_utf8(units::print(fault)));
    hold(!fault.what.empty() && !fault.expected.empty());
  }
  if (read.rulebook) hold_rulebook(*read.rulebook);
}

}  // namespace weighwright::fuzz

WEIGHWRIGHT_FUZZ_TARGET(weighwright::fuzz::read_rulebook)
