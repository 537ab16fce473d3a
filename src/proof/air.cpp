#include "proof/air.h"

#include <cmath>
#include <numbers>

namespace weighwright::proof {
namespace {

constexpr double kZero_K = 273.15;
constexpr double kStandardPressure_Pa = 101325.0;
constexpr double kGravity_m_per_s2 = 9.80665;

// Beyond their stated ranges: the two equations part by 8e-4 at -10 and at 40 degC; taken as the
// standard uncertainty of either there (common practice, no source).
constexpr double kStretched = 1e-3;

bool between(double value, double low, double high) {
  return value >= low && value <= high;
}

/// Mole fraction of water vapour.
double vapour_fraction(double t_degC, double t_K, double pressure_Pa, double humidity) {
  const double saturated_Pa =
      std::exp(1.2378847e-5 * t_K * t_K - 1.9121316e-2 * t_K + 33.93711047 - 6.3431645e3 / t_K);
  const double enhancement = 1.00062 + 3.14e-8 * pressure_Pa + 5.6e-7 * t_degC * t_degC;
  return humidity * enhancement * saturated_Pa / pressure_Pa;
}

double compressibility(double t, double t_K, double pressure_Pa, double x) {
  const double ratio = pressure_Pa / t_K;
  const double first = 1.58123e-6 - 2.9331e-8 * t + 1.1043e-10 * t * t +
                       (5.707e-6 - 2.051e-8 * t) * x + (1.9898e-4 - 2.376e-6 * t) * x * x;
  return 1.0 - ratio * first + ratio * ratio * (1.83e-11 - 0.765e-8 * x * x);
}

}  // namespace

AirDensity cipm_2007(const Air& air, double x_co2) {
  constexpr double kGasConstant = 8.314472;  // the equation is defined with this one
  constexpr double kVapour_kg_per_mol = 18.01528e-3;
  constexpr double kEquation = 22e-6;  // from memory, unverified
  const double dry_kg_per_mol = (28.96546 + 12.011 * (x_co2 - 0.0004)) * 1e-3;
  const double t_K = air.temperature_degC + kZero_K;
  const double x = vapour_fraction(air.temperature_degC, t_K, air.pressure_Pa, air.humidity);
  const double z = compressibility(air.temperature_degC, t_K, air.pressure_Pa, x);
  AirDensity density;
  density.kg_per_m3 = air.pressure_Pa * dry_kg_per_mol / (z * kGasConstant * t_K) *
                      (1.0 - x * (1.0 - kVapour_kg_per_mol / dry_kg_per_mol));
  density.in_range = between(air.temperature_degC, 15.0, 27.0) &&
                     between(air.pressure_Pa, 60000.0, 110000.0) && between(air.humidity, 0.0, 1.0);
  density.u_relative = density.in_range ? kEquation : kStretched;
  return density;
}

AirDensity simplified(const Air& air) {
  constexpr double kEquation = 2e-4;
  const double pressure_hPa = air.pressure_Pa / 100.0;
  const double humidity_percent = air.humidity * 100.0;
  AirDensity density;
  density.kg_per_m3 =
      (0.34848 * pressure_hPa - 0.009 * humidity_percent * std::exp(0.061 * air.temperature_degC)) /
      (kZero_K + air.temperature_degC);
  density.in_range = between(air.temperature_degC, 10.0, 30.0) &&
                     between(pressure_hPa, 900.0, 1100.0) && air.humidity >= 0.0 &&
                     air.humidity < 0.8;
  density.u_relative = density.in_range ? kEquation : kStretched;
  return density;
}

double density_at_altitude(double altitude_m) {
  return kConventionalAir *
         std::exp(-kConventionalAir * kGravity_m_per_s2 * altitude_m / kStandardPressure_Pa);
}

double conventional_mass(double mass_kg, double density_kg_per_m3) {
  return mass_kg * (1.0 - kConventionalAir / density_kg_per_m3) /
         (1.0 - kConventionalAir / kConventionalDensity);
}

double true_mass(double conventional_kg, double density_kg_per_m3) {
  return conventional_kg * (1.0 - kConventionalAir / kConventionalDensity) /
         (1.0 - kConventionalAir / density_kg_per_m3);
}

double buoyancy_correction(double conventional_kg,
                           double density_kg_per_m3,
                           double air_kg_per_m3,
                           double adjusted_in_kg_per_m3) {
  const double of_weights =
      (air_kg_per_m3 - kConventionalAir) * (1.0 / density_kg_per_m3 - 1.0 / kConventionalDensity);
  const double of_scale = (air_kg_per_m3 - adjusted_in_kg_per_m3) / kConventionalDensity;
  return -conventional_kg * (of_weights + of_scale);
}

double u_buoyancy_relative(const BuoyancyCase& which, double class_share) {
  const double of_weights = which.weights_half_width ? *which.weights_half_width / std::sqrt(3.0)
                                                     : class_share / (4.0 * std::sqrt(3.0));
  if (which.adjusted_now) return of_weights;
  constexpr double kShare = kConventionalAir / kConventionalDensity;
  if (!which.temperature_spread_K) return 0.1 * kShare / std::sqrt(3.0) + of_weights;
  const double spread_K = *which.temperature_spread_K;
  return std::sqrt(1.07e-4 + 1.33e-6 * spread_K * spread_K) * kShare + of_weights;
}

double gravity_effect(double adjusted_m_per_s2, double used_m_per_s2) {
  return (used_m_per_s2 - adjusted_m_per_s2) / adjusted_m_per_s2;
}

double welmec_gravity(double latitude_rad, double height_m) {
  const double sine = std::sin(latitude_rad);
  const double sine_of_double = std::sin(2.0 * latitude_rad);
  return 9.780318 * (1.0 + 0.0053024 * sine * sine - 0.0000058 * sine_of_double * sine_of_double) -
         0.000003085 * height_m;
}

bool zone_fits(double spread_relative, double limit_relative) {
  return std::abs(spread_relative) <= limit_relative / 3.0;
}

}  // namespace weighwright::proof
