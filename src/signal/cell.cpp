#include "signal/cell.h"

#include "units/quantity.h"

namespace weighwright::signal {

double sensitivity_V_per_N(const deck::Cell& cell, double excitation_V) {
  return cell.output_V_per_V * excitation_V / (cell.capacity_kg * units::kStandardGravity_m_per_s2);
}

double signal_V(const deck::Cell& cell, double excitation_V, double force_N) {
  return sensitivity_V_per_N(cell, excitation_V) * force_N;
}

std::optional<double> newtons_per_unit(const deck::Cell& cell,
                                       record::ReadingUnit unit,
                                       double excitation_V,
                                       double gravity_m_per_s2) {
  const double full_N = cell.capacity_kg * units::kStandardGravity_m_per_s2;
  switch (unit) {
    case record::ReadingUnit::mV:
      return 1e-3 / sensitivity_V_per_N(cell, excitation_V);
    case record::ReadingUnit::mV_per_V:
      return 1e-3 * full_N / cell.output_V_per_V;
    case record::ReadingUnit::counts:
      if (!cell.counts) return std::nullopt;
      return full_N / *cell.counts;
    case record::ReadingUnit::kg:
      return gravity_m_per_s2;
    case record::ReadingUnit::lb:
      return units::kPound_kg * gravity_m_per_s2;
  }
  return std::nullopt;
}

}  // namespace weighwright::signal
