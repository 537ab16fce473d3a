#include "proof/line_budget.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "proof/air.h"
#include "proof/substitute_strain.h"

namespace weighwright::proof {
namespace {

using rules::Check;

constexpr int kOneEstimate = 1;
constexpr double kUnreadZero_of_d = 0.5;  // a look at the display would tell no more

Term rectangular(const char* code, double u_kg) {
  Term term;
  term.code = code;
  term.u_kg = u_kg;
  term.shape = Shape::rectangular;
  return term;
}

Term repeated(const Evidence& evidence, const char* code, double readings) {
  Term term;
  term.code = code;
  term.u_kg = evidence.repeats.s_kg * std::sqrt(readings);
  term.dof = evidence.repeats.dof;
  term.estimate = kOneEstimate;
  return term;
}

void add_indication(const Evidence& evidence, const Row& row, std::vector<Term>& terms) {
  terms.push_back(rectangular("resolution_load", u_of_step(row.shown.step_kg)));
  if (const auto step = zero_step_kg(evidence, row)) {
    terms.push_back(rectangular("resolution_zero", u_of_step(*step)));
  } else {
    terms.push_back(rectangular("zero_not_read", u_of_limits(unread_zero_kg(evidence))));
  }
  // A strain test is the difference of two loaded readings.
  const double readings = is_by_strain(evidence, row) ? 2.0 : 1.0;
  terms.push_back(repeated(evidence, "repeatability", readings));
  if (stands_anywhere(row.check) && evidence.eccentric_share > 0.0) {
    const double u_kg = evidence.eccentric_share * std::abs(weighed_kg(evidence, row));
    terms.push_back(rectangular("eccentricity", u_kg));
  }
}

void add_standards(const Evidence& evidence, const Known& load, std::vector<Term>& terms) {
  Term weights = rectangular("weights", load.u_weights_kg);
  if (load.certified) weights.shape = Shape::normal;
  if (weights.u_kg > 0.0) terms.push_back(std::move(weights));
  if (load.drift_kg > 0.0) {
    terms.push_back(rectangular("weights_drift", u_of_limits(load.drift_kg)));
  }
  Term buoyancy;
  buoyancy.code = "buoyancy";
  buoyancy.u_kg = buoyancy_of(evidence, load) * load.standards_kg;
  terms.push_back(std::move(buoyancy));
}

void add_substitution(const Evidence& evidence, const Known& load, std::vector<Term>& terms) {
  double squares = 0.0;  // of the coefficients
  double variance = 0.0;
  for (const auto& [index, coefficient] : load.readings) {
    const Row& row = evidence.rows[static_cast<std::size_t>(index)];
    squares += coefficient * coefficient;
    variance += std::pow(coefficient * u_of_step(row.shown.step_kg), 2);
  }
  if (squares <= 0.0) return;
  Term rounded;
  rounded.code = "substitution";
  rounded.u_kg = std::sqrt(variance);
  terms.push_back(std::move(rounded));
  terms.push_back(repeated(evidence, "substitution", squares));
}

}  // namespace

bool stands_anywhere(Check check) {
  return check == Check::increasing || check == Check::decreasing ||
         check == Check::repeatability || check == Check::strain;
}

std::optional<double> zero_step_kg(const Evidence& evidence, const Row& row) {
  if (row.check == Check::strain) {
    const double start = row.reading->start_kg.value_or(0.0);
    const double d = row.shown.division_kg;
    const double divisions = start / d;
    const bool between = std::abs(divisions - std::round(divisions)) > 1e-6 * std::abs(divisions);
    return between && evidence.rulebook.before_rounding ? 0.1 * d : d;
  }
  if (const Row* const start = strain_start(evidence, row)) return start->shown.step_kg;
  if (!row.zero.read) return std::nullopt;
  return row.zero.step_kg;
}

double unread_zero_kg(const Evidence& evidence) {
  const auto limit =
      rules::zero_setting_limit(evidence.rulebook, evidence.scale, evidence.what.occasion);
  const double displayed_kg = kUnreadZero_of_d * division_at_kg(evidence.deck, 0.0);
  return std::max(limit ? limit->kg : 0.0, displayed_kg);
}

double buoyancy_of(const Evidence& evidence, const Known& load) {
  const Conditions& conditions = evidence.what.conditions;
  BuoyancyCase which;
  which.adjusted_now = conditions.adjusted_now;
  // One look at the thermometer tells no spread.
  const auto& low = conditions.temperature_low_degC;
  const auto& high = conditions.temperature_high_degC;
  if (low && high && *low < *high) which.temperature_spread_K = *high - *low;
  if (load.densities_stated && conditions.air_kg_per_m3) {
    which.weights_half_width =
        std::abs(*conditions.air_kg_per_m3 - kConventionalAir) * load.volume_off_m3_per_kg;
  }
  return u_buoyancy_relative(which, load.class_share);
}

std::vector<Term> terms_of(const Evidence& evidence, const Row& row) {
  std::vector<Term> terms;
  add_indication(evidence, row, terms);
  const Known& load = load_of_error(evidence, row);
  add_standards(evidence, load, terms);
  add_substitution(evidence, load, terms);
  return terms;
}

double u_substitution_kg(const Evidence& evidence, const Known& load) {
  std::vector<Term> terms;
  add_standards(evidence, load, terms);
  add_substitution(evidence, load, terms);
  double variance = 0.0;
  for (const Term& term : terms) variance += term.u_kg * term.u_kg;
  return std::sqrt(variance);
}

}  // namespace weighwright::proof
