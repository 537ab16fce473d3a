// The chance to pass each line of a test that is not made yet.
#include <cmath>

#include "proof/evidence.h"
#include "proof/line_budget.h"
#include "proof/scale_of.h"
#include "proof/verdict.h"

namespace weighwright::proof {
namespace {

constexpr double kSmallStep_of_d =
    0.1;  // of small weights, where errors are judged before rounding

/// How far a load's place moves its indication, standard deviation. Corners as independent: on the
/// deck as a whole their mean counts.
double spread_at(const rules::Scale& scale,
                 rules::Check check,
                 double load_kg,
                 const Foreknown& known) {
  if (!(known.reference_kg > 0.0)) return 0.0;
  const double here = known.spread_kg * load_kg / known.reference_kg;
  const bool whole = stands_anywhere(check) && scale.supports > 0;
  return whole ? here / std::sqrt(static_cast<double>(scale.supports)) : here;
}

double rounding_at(const deck::Deck& deck, const rules::Rulebook& rulebook, double load_kg) {
  const double d = division_at_kg(deck, load_kg);
  return (rulebook.before_rounding ? kSmallStep_of_d * d : d) / std::sqrt(12.0);
}

}  // namespace

std::vector<LineChance> chances_before(const deck::Deck& deck,
                                       const rules::Rulebook& rulebook,
                                       rules::Occasion occasion,
                                       const std::vector<std::pair<rules::Check, double>>& lines,
                                       const Foreknown& known) {
  const rules::Scale scale = scale_of(deck);
  std::vector<LineChance> chances;
  for (const auto& [check, load_kg] : lines) {
    const auto limit = rules::limit_at(rulebook, scale, occasion, load_kg);
    const bool has_error = check != rules::Check::zero && check != rules::Check::discrimination;
    if (!limit || !has_error || load_kg <= 0.0) continue;
    LineChance chance;
    chance.load_kg = load_kg;
    chance.check = check;
    chance.limit = *limit;
    chance.expected_error_kg = (known.slope - 1.0) * load_kg;
    const double rounding = rounding_at(deck, rulebook, load_kg);
    const double zero = rounding_at(deck, rulebook, 0.0);
    chance.u_kg = std::hypot(std::hypot(known.u_slope * load_kg, known.repeatability_kg),
                             std::hypot(rounding, zero), spread_at(scale, check, load_kg, known));
    chance.p_pass = p_within(chance.expected_error_kg, chance.u_kg, -limit->kg, limit->kg);
    chances.push_back(std::move(chance));
  }
  return chances;
}

}  // namespace weighwright::proof
