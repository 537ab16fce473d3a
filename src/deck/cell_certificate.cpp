#include "deck/cell_certificate.h"

#include <array>

namespace weighwright::deck {

namespace {

// OIML R 60-1:2021, 5.5.1.
constexpr double kCreepShare = 0.7;
constexpr double kLateCreepShare = 0.15;

/// Where 0.5 v and 1 v end, and where the class ends (OIML R 60-1:2021, table 4; no end for A).
struct Steps {
  char cell_class;
  double half_v;
  double one_v;
  std::optional<double> last_v;
};
constexpr std::array<Steps, 4> kSteps = {{{'A', 50'000, 200'000, std::nullopt},
                                          {'B', 5'000, 20'000, 100'000.0},
                                          {'C', 500, 2'000, 10'000.0},
                                          {'D', 50, 200, 1'000.0}}};

}  // namespace

std::optional<CellRules> parse_cell_rules(std::string_view text) {
  for (const CellRules rules : {CellRules::r60_2000, CellRules::r60_2021}) {
    if (text == print(rules)) return rules;
  }
  return std::nullopt;
}

std::string_view print(CellRules rules) {
  return rules == CellRules::r60_2000 ? "R 60:2000" : "R 60:2021";
}

std::optional<double> reach_kg(CellRules rules,
                               double capacity_kg,
                               std::optional<double> least_load_kg) {
  if (rules == CellRules::r60_2000) return capacity_kg;
  if (!least_load_kg || !(*least_load_kg < capacity_kg)) return std::nullopt;
  return capacity_kg - *least_load_kg;
}

double interval_of_y_kg(double reach_kg, double y) {
  return reach_kg / y;
}

double return_of_z_kg(double reach_kg, double z) {
  return reach_kg / (2.0 * z);
}

std::optional<double> cell_error_limit_v(char cell_class,
                                         double load_v,
                                         std::optional<double> error_fraction) {
  for (const Steps& steps : kSteps) {
    if (steps.cell_class != cell_class || !(load_v >= 0.0)) continue;
    if (steps.last_v && load_v > *steps.last_v) return std::nullopt;
    const double step = load_v <= steps.half_v ? 0.5 : load_v <= steps.one_v ? 1.0 : 1.5;
    return error_fraction.value_or(kUsualErrorFraction) * step;
  }
  return std::nullopt;
}

std::optional<CreepLimits> creep_limits_v(char cell_class, double load_v) {
  const auto limit_v = cell_error_limit_v(cell_class, load_v, kUsualErrorFraction);
  if (!limit_v) return std::nullopt;
  return CreepLimits{kCreepShare * *limit_v, kLateCreepShare * *limit_v};
}

}  // namespace weighwright::deck
