#include "signal/utilisation.h"

#include <algorithm>
#include <stdexcept>

namespace weighwright::signal {

double UtilisationLimits::least() const {
  return std::min({zero, span, creep, zero_return, pressure});
}

double utilisation(double force_ratio, double capacity_kg, int cells, double cell_capacity_kg) {
  if (!(force_ratio > 0.0) || !(force_ratio <= 1.0)) {
    throw std::invalid_argument(
        "utilisation: R is the force on the cells over the force on the receptor, more than 0 and "
        "at most 1; of a reduction 1:200 it is 1/200");
  }
  if (!(capacity_kg > 0.0) || cells < 1 || !(cell_capacity_kg > 0.0)) {
    throw std::invalid_argument("utilisation: Max, cells and their capacity must be more than 0");
  }
  return force_ratio * capacity_kg / (cells * cell_capacity_kg);
}

UtilisationLimits utilisation_limits(const CellDrifts& drifts, double utilisation) {
  if (!(utilisation > 0.0) || !(drifts.zero_per_5K > 0.0) || !(drifts.span_per_25K > 0.0) ||
      !(drifts.creep_8h > 0.0) || !(drifts.zero_return_30min > 0.0) ||
      !(drifts.pressure_per_kPa > 0.0)) {
    throw std::invalid_argument("utilisation limits: drifts and utilisation must be more than 0");
  }
  const double span = drifts.span_per_25K;
  const double creep = drifts.creep_8h;
  UtilisationLimits limits;
  limits.zero = 700.0 * utilisation / drifts.zero_per_5K;
  limits.span = span <= 0.35 ? 1050.0 / span : 1050.0 / (3.0 * span - 0.7);
  limits.creep = creep <= 0.5 ? 1500.0 / creep : 1500.0 / (3.0 * creep - 1.0);
  limits.zero_return = 500.0 / drifts.zero_return_30min;
  limits.pressure = 1000.0 * utilisation / drifts.pressure_per_kPa;
  return limits;
}

}  // namespace weighwright::signal
