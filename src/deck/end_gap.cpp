#include <algorithm>

#include "deck/deck.h"

namespace weighwright::deck {

std::optional<double> end_gap_m(const Deck& deck, double temperature_degC) {
  constexpr double kSteel_per_K = 12e-6;
  constexpr double kConcrete_per_K = 10e-6;
  const Restraint& restraint = deck.restraint;
  if (restraint.kind != Restraint::Kind::gap || !restraint.gap_m || !restraint.temperature_degC) {
    return std::nullopt;
  }
  const bool concrete = std::all_of(
      deck.modules.begin(), deck.modules.end(),
      [](const Module& module) { return module.construction == Construction::concrete; });
  const double growth_m = (concrete ? kConcrete_per_K : kSteel_per_K) * deck.length_m() *
                          (temperature_degC - *restraint.temperature_degC);
  return *restraint.gap_m - growth_m / 2.0;
}

}  // namespace weighwright::deck
