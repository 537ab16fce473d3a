#pragma once
/// What the certificate of a load cell says besides plain kilograms: Y and Z in place of v_min and
/// DR, and the limits that its class carries.
///
/// Model   v_min = reach / Y and DR = reach / (2 Z). The reach is E_max in OIML R 60:2000 and E_max
///         less E_min in R 60:2021: the same figure on two certificates is not the same v_min. What
///         R 60:2017 meant could not be read, so it is no edition here.
///         Limits of error: p_LC times 0.5, 1 or 1.5 v. Creep: 0.7 of that limit in 30 minutes,
///         0.15 of it from the 20th to the 30th, and there p_LC is always 0.7, whatever the cell
///         has.
/// Source  OIML R 60:2000, 2.3.13 and 2.3.14; OIML R 60-1:2021, 3.5.14, 3.5.15, 5.5.1, table 4.

#include <optional>
#include <string_view>

namespace weighwright::deck {

/// p_LC where a certificate is silent (OIML R 60-1:2021, table 4).
inline constexpr double kUsualErrorFraction = 0.7;

enum class CellRules { r60_2000, r60_2021 };

/// "R 60:2000" or "R 60:2021". Empty: neither.
[[nodiscard]] std::optional<CellRules> parse_cell_rules(std::string_view text);
/// Back to the text.
[[nodiscard]] std::string_view print(CellRules rules);

/// The load range that Y and Z divide, kg. Empty: R 60:2021 and no E_min, or one that is not below
/// E_max.
/// @param least_load_kg  E_min
[[nodiscard]] std::optional<double> reach_kg(CellRules rules,
                                             double capacity_kg,
                                             std::optional<double> least_load_kg);

/// v_min, kg. @pre y > 0
[[nodiscard]] double interval_of_y_kg(double reach_kg, double y);
/// DR, kg. @pre z > 0
[[nodiscard]] double return_of_z_kg(double reach_kg, double z);

/// Greatest error of a cell at a load, in verification intervals v of the cell. Empty: a class
/// other than A to D, a load below 0 or above what the class goes to.
/// @param load_v  in intervals v; a break belongs to the step below it
[[nodiscard]] std::optional<double> cell_error_limit_v(char cell_class,
                                                       double load_v,
                                                       std::optional<double> error_fraction);

/// Greatest change under a steady load of 90 % to 100 % of E_max, in v.
struct CreepLimits {
  double in_30_min_v = 0.0;
  double from_20_to_30_min_v = 0.0;
};
/// Takes no p_LC: it is 0.7 here for every cell. Empty as above.
[[nodiscard]] std::optional<CreepLimits> creep_limits_v(char cell_class, double load_v);

}  // namespace weighwright::deck
