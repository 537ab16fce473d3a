#pragma once
/// How many intervals cells with old papers allow: certificates from before "v_min" state drifts of
/// the cell in parts of its capacity, and using little of that capacity loses intervals.
///
/// Model   utilisation alpha = R Max / (N E): what of the cells' capacities Max uses. Drifts that
/// do
///         not go with the load (zero, air pressure) scale with it, those that do (span, creep,
///         zero return after load) do not. Temperature may take 0.7 of the error limit.
/// Source  Engler, OIML Bulletin 80 (1980/03): module rules of the R 3 era, before R 76. Kept for
///         judging old cells; it is not the compatibility check of R 76-1:2006 (compatibility.h).

namespace weighwright::signal {

/// Drifts of one cell, in thousandths of its capacity; all more than 0.
struct CellDrifts {
  double zero_per_5K = 0.0;
  double span_per_25K = 0.0;
  double creep_8h = 0.0;
  double zero_return_30min = 0.0;
  double pressure_per_kPa = 0.0;
};

/// Greatest number of intervals by each drift.
struct UtilisationLimits {
  double zero = 0.0;
  double span = 0.0;
  double creep = 0.0;
  double zero_return = 0.0;
  double pressure = 0.0;
  [[nodiscard]] double least() const;
};

/// What of the cells' capacities Max uses: R Max / (N E).
/// @param force_ratio      R, force on the cells over force on the receptor: 1 where cells carry
/// the
///                         receptor, 1/200 behind levers that papers call "reduction 1:200"
/// @param capacity_kg      Max, more than 0
/// @param cells            N, at least 1
/// @param cell_capacity_kg  E, more than 0
/// @throws std::invalid_argument for what is not so; R above 1 is the reduction 1/R by mistake
[[nodiscard]] double utilisation(double force_ratio,
                                 double capacity_kg,
                                 int cells,
                                 double cell_capacity_kg);

/// @throws std::invalid_argument when a drift or the utilisation is not more than 0
[[nodiscard]] UtilisationLimits utilisation_limits(const CellDrifts& drifts, double utilisation);

}  // namespace weighwright::signal
