#pragma once
/// Air density and what it does to weights and to the scale.
///
/// Source  CIPM-2007: Picard, Davis, Glaeser, Fujii, Metrologia 45 (2008) 149-155 (600 to 1100 hPa,
///         15 to 27 degC). Simplified: OIML R 111-1:2004, E.3.1 (900 to 1100 hPa, 10 to 30 degC,
///         below 80 %; from memory, unverified). By altitude alone: same, E.3 (from memory).
///         Conventional mass: JCGM 101:2008, 9.3.1.2; OIML D 28:2004.

#include <optional>

namespace weighwright::proof {

inline constexpr double kConventionalAir = 1.2;         // kg/m3
inline constexpr double kConventionalDensity = 8000.0;  // kg/m3

struct Air {
  double temperature_degC = 20.0;
  double pressure_Pa = 101325.0;
  double humidity = 0.5;  // 0 to 1
};

struct AirDensity {
  double kg_per_m3 = 0.0;
  double u_relative = 0.0;  // standard, of the equation; 1e-3 outside its stated range (no source)
  bool in_range = true;     // of the equation's stated range
};

[[nodiscard]] AirDensity cipm_2007(const Air& air, double x_co2 = 0.0004);
[[nodiscard]] AirDensity simplified(const Air& air);
/// @param altitude_m  above the sea
[[nodiscard]] double density_at_altitude(double altitude_m);

/// Conventional from true mass and back. @pre density > 0
[[nodiscard]] double conventional_mass(double mass_kg, double density_kg_per_m3);
[[nodiscard]] double true_mass(double conventional_kg, double density_kg_per_m3);

/// Correction of the reference load for buoyancy, kg: -m[(ra - r0)(1/r - 1/rc) + (ra - ras)/rc].
/// @param adjusted_in  air density when the scale was adjusted
[[nodiscard]] double buoyancy_correction(double conventional_kg,
                                         double density_kg_per_m3,
                                         double air_kg_per_m3,
                                         double adjusted_in_kg_per_m3);

/// Relative standard uncertainty of buoyancy where nothing is corrected (cases of cg-18; from
/// memory, unverified). A: adjusted right before; B1: nothing known; B2: temperature spread known.
struct BuoyancyCase {
  bool adjusted_now = false;
  std::optional<double> temperature_spread_K;  // greatest less least
  // |(ra - r0)(1/r - 1/rc)| where air and density of the weights are known: half width, relative.
  // Empty: by the class, whose limits of density hold it.
  std::optional<double> weights_half_width = {};
};
/// @param class_share  mpe over mass of the weights' class
[[nodiscard]] double u_buoyancy_relative(const BuoyancyCase& which, double class_share);

/// Relative error of a scale adjusted at g1 and used at g2: (g2 - g1)/g1.
[[nodiscard]] double gravity_effect(double adjusted_m_per_s2, double used_m_per_s2);

/// Gravity of the formula that gravity zones are drawn with, m/s2:
///     9.780318 (1 + 0.0053024 sin^2 phi - 0.0000058 sin^2 2 phi) - 0.000003085 h.
/// Source  WELMEC gravity formula, as quoted in public documentation; the guide's clause was not
///         read. Normal gravity itself is in deck/gravity.h.
/// @param latitude_rad  geodetic  @param height_m  above the sea, up positive
[[nodiscard]] double welmec_gravity(double latitude_rad, double height_m);

/// Does a gravity zone leave enough of the limit: its spread takes a third of it at most (PTB's
/// page on gravity zones, after WELMEC). Both relative, at the same load.
[[nodiscard]] bool zone_fits(double spread_relative, double limit_relative);

}  // namespace weighwright::proof
