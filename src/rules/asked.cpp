// Which tests an occasion asks for, with what loads, and the limits of the indicator's own checks.
#include <algorithm>
#include <cmath>

#include "rules/limits.h"

namespace weighwright::rules {

namespace {

constexpr double kNearZero_d = 20.0;             // common practice, no source
constexpr double kAllowed_of_limit = 1.0 / 3.0;  // R 76-1, 3.7.1: what standards may be wrong by

Stage stage_of(const Rulebook& rulebook, Occasion occasion) {
  const OccasionRule* const rule = rulebook.find_occasion(occasion);
  return rule != nullptr ? rule->stage : usual_stage(occasion);
}

Limit plain(double kg, double interval_kg, const Source& source) {
  return {.kg = kg,
          .divisions = interval_kg > 0.0 ? kg / interval_kg : 0.0,
          .interval_kg = interval_kg,
          .factor = 1.0,
          .source = source,
          .factor_source = {}};
}

}  // namespace

bool is_asked(const Rulebook& rulebook,
              const Scale& scale,
              Occasion occasion,
              const TestRule& test) {
  if (!test.required) return false;
  const auto& exempt = test.digital_exempt;
  const Stage stage = stage_of(rulebook, occasion);
  return !scale.digital || std::find(exempt.begin(), exempt.end(), stage) == exempt.end();
}

RepeatsAsked repeats_asked(const Rulebook& rulebook, Occasion occasion) {
  RepeatsAsked asked{.count = static_cast<int>(std::lround(rulebook.repeatability_count.value)),
                     .count_source = rulebook.repeatability_count.source,
                     .shares = rulebook.repeatability_shares,
                     .source = rulebook.repeatability_source};
  const Stage stage = stage_of(rulebook, occasion);
  for (const StageRepeats& own : rulebook.repeatability_stages) {
    if (own.stage != stage) continue;
    if (!own.count.source.clause.empty()) {
      asked.count = static_cast<int>(std::lround(own.count.value));
      asked.count_source = own.count.source;
    }
    if (own.shares.empty()) continue;
    asked.shares = own.shares;
    asked.source = own.source;
  }
  return asked;
}

double near_zero_kg(const Rulebook& rulebook, const Scale& scale) {
  return std::max(least_load_kg(rulebook, scale), kNearZero_d * interval_at_kg(scale, 0.0));
}

double prescribed_allowance_kg(const Rulebook& rulebook,
                               const Scale& scale,
                               Occasion occasion,
                               double load_kg) {
  const std::optional<Limit> limit = limit_at(rulebook, scale, occasion, load_kg);
  return limit ? kAllowed_of_limit * limit->kg : 0.0;
}

bool counts_as_made(const Rulebook& rulebook,
                    const Scale& scale,
                    Occasion occasion,
                    double load_kg,
                    double prescribed_kg) {
  const double least_kg =
      prescribed_kg - prescribed_allowance_kg(rulebook, scale, occasion, prescribed_kg);
  return counts_of(load_kg) >= counts_of(least_kg);
}

std::optional<Limit> tare_limit(const Rulebook& rulebook, const Scale& scale) {
  const Cited& setting = rulebook.tare_setting_e;
  if (setting.source.clause.empty()) return std::nullopt;
  const double interval_kg = interval_at_kg(scale, 0.0);
  return plain(setting.value * interval_kg, interval_kg, setting.source);
}

std::optional<Limit> zero_range_limit(const Rulebook& rulebook, const Scale& scale) {
  const Cited& share = rulebook.zero_range_share;
  if (!(share.value > 0.0)) return std::nullopt;
  return plain(share.value * scale.capacity_kg, interval_at_kg(scale, 0.0), share.source);
}

std::optional<Limit> indications_limit(const Rulebook& rulebook,
                                       const Scale& scale,
                                       double load_kg) {
  const Cited& apart = rulebook.indications_apart;
  if (apart.source.clause.empty()) return std::nullopt;
  const double interval_kg = interval_at_kg(scale, load_kg);
  return plain(apart.value * interval_kg, interval_kg, apart.source);
}

}  // namespace weighwright::rules
