#include "span/theory.h"

#include "signal/circuit.h"
#include "units/quantity.h"

namespace weighwright::span {

namespace {
constexpr double kUsualCable_degC = 20.0;
}

Theory theory_of(const deck::Deck& deck, const Eigen::VectorXd& dead_N) {
  Theory theory;
  const signal::Wiring wiring =
      signal::wire(deck, deck.cable_temperature_degC.value_or(kUsualCable_degC), &theory.assumed);
  const signal::Solved dead = signal::solve(wiring, dead_N);
  theory.excitation_V = wiring.supply_V;
  theory.dead_V_per_V = dead.reading_V_per_V;
  const double gravity = deck.site.gravity_m_per_s2;
  theory.per_kg_V_per_V = signal::gains_per_N(wiring, dead_N).mean() * gravity;
  theory.span_V_per_V = theory.per_kg_V_per_V * deck.capacity_kg;
  theory.gravity_ratio = gravity / units::kStandardGravity_m_per_s2;
  return theory;
}

}  // namespace weighwright::span
