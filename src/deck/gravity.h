#pragma once
/// Gravity at a place, for the weight of a mass there.

namespace weighwright::deck {

/// Normal gravity of the WGS 84 ellipsoid, m/s2, downward.
///
/// Model   Somigliana's closed form on the ellipsoid and the series upward in altitude.
/// Source  NIMA TR8350.2, Department of Defense World Geodetic System 1984, 3rd ed. (2000),
///         eq. (4-1) and (4-3), constants of tables 3.1, 3.3 and 3.4.
/// Limits  Local anomalies (up to some 0.001 m/s2) are not in it; altitudes from -500 m to 10 km.
///
/// @param latitude_rad  geodetic, north positive, -pi/2 to pi/2
/// @param altitude_m    above the ellipsoid; height above the sea is near enough
[[nodiscard]] double normal_gravity_m_per_s2(double latitude_rad, double altitude_m);

}  // namespace weighwright::deck
