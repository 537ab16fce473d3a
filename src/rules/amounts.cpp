// How much must be there in standards, and how good it must be.
#include <algorithm>
#include <cmath>

#include "rules/limits.h"
#include "rules/words.h"
#include "units/quantity.h"

namespace weighwright::rules {

namespace {

/// The mass of a row by the column that the scale goes by.
double column_kg(double kg, double lb, bool us) {
  return us && lb > 0.0 ? lb * units::kPound_kg : kg;
}

const AmountRow* row_of(const std::vector<AmountRow>& rows, const Scale& scale) {
  for (const AmountRow& row : rows) {
    if (row.up_to_kg == kNoEnd) return &row;
    const double up_to_kg = column_kg(row.up_to_kg, row.up_to_lb, scale.us);
    if (counts_of(scale.capacity_kg) <= counts_of(up_to_kg)) return &row;
  }
  return nullptr;
}

/// Of rows by capacity (HB 44, Table 4).
Amount by_capacity(const AmountRow& row, const Rulebook& rulebook, const Scale& scale) {
  const double least_kg = column_kg(row.weights_kg, row.weights_lb, scale.us);
  const double share_kg = row.weights_share * scale.capacity_kg;
  Amount amount{.weights_kg = std::min(std::max(share_kg, least_kg), scale.capacity_kg),
                .load_kg = row.load_share * scale.capacity_kg,
                .source = rulebook.amounts_source,
                .because = share_words(row.weights_share) + " of Max"};
  if (least_kg > 0.0) amount.because += ", at least " + mass_words(least_kg, scale.us);
  return amount;
}

/// The first step that a repeatability error fits in; the last one while it is not known.
const SubstitutionStep& step_of(const Rulebook& rulebook,
                                const Scale& scale,
                                std::optional<double> repeatability_kg) {
  const std::vector<SubstitutionStep>& steps = rulebook.substitution;
  if (!repeatability_kg) return steps.back();
  const double interval_kg = interval_at_kg(scale, scale.capacity_kg / 2.0);
  for (const SubstitutionStep& step : steps) {
    if (step.repeatability_e == kNoEnd ||
        within(*repeatability_kg, step.repeatability_e * interval_kg))
      return step;
  }
  return steps.back();
}

std::string repeatability_words(const SubstitutionStep& step,
                                const Rulebook& rulebook,
                                bool known) {
  if (!known) return " (repeatability not yet known)";
  if (step.repeatability_e != kNoEnd) {
    return " (repeatability at most " + number_words(step.repeatability_e) + " " +
           rulebook.division + ")";
  }
  return " (repeatability above " +
         number_words(rulebook.substitution[rulebook.substitution.size() - 2].repeatability_e) +
         " " + rulebook.division + ")";
}

/// By the repeatability found (R 76-1, 3.7.3).
Amount by_repeatability(const Rulebook& rulebook,
                        const Scale& scale,
                        std::optional<double> repeatability_kg) {
  const SubstitutionStep& step = step_of(rulebook, scale, repeatability_kg);
  const double least_kg = rulebook.least_standards_kg.value;
  const double share_kg = step.weights_share * scale.capacity_kg;
  Amount amount{.weights_kg = std::min(std::max(share_kg, least_kg), scale.capacity_kg),
                .load_kg = 0.0,
                .source = rulebook.substitution_source,
                .because = share_words(step.weights_share) + " of Max"};
  if (least_kg > 0.0) amount.because += ", at least " + mass_words(least_kg, scale.us);
  if (rulebook.substitution.size() > 1)
    amount.because += repeatability_words(step, rulebook, repeatability_kg.has_value());
  return amount;
}

}  // namespace

Amount least_standards(const Rulebook& rulebook,
                       const Scale& scale,
                       std::optional<double> repeatability_kg) {
  if (const AmountRow* const row = row_of(rulebook.amounts, scale))
    return by_capacity(*row, rulebook, scale);
  if (!rulebook.substitution.empty()) return by_repeatability(rulebook, scale, repeatability_kg);
  return {.weights_kg = scale.capacity_kg,
          .load_kg = 0.0,
          .source = {},
          .because = "Max: the rulebook says nothing of substitutes"};
}

std::optional<Limit> standards_limit_at(const Rulebook& rulebook,
                                        const Scale& scale,
                                        Occasion occasion,
                                        double load_kg) {
  std::optional<Limit> limit = limit_at(rulebook, scale, occasion, load_kg);
  if (!limit || !(rulebook.standards_share.value > 0.0)) return std::nullopt;
  limit->kg *= rulebook.standards_share.value;
  limit->divisions *= rulebook.standards_share.value;
  limit->source = rulebook.standards_share.source;
  return limit;
}

}  // namespace weighwright::rules
