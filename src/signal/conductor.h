#pragma once
/// How much one core of a copper cable resists.
///
/// Model   R = r l (1 + alpha (t - 20 degC)). r is the greatest resistance per length that
///         IEC 60228 allows a plain flexible (class 5) conductor of that nominal area, where the
///         standard lists the area; for every other area (one that came from a wire gauge) it is
///         the resistivity of copper over the area.
/// Source  IEC 60228, class 5, plain: 0.5, 0.75, 1, 1.5, 2.5 mm2 (three reproductions of its table
///         agree). Resistivity 1/58 ohm mm2/m and alpha 0.00393 /K at 20 degC: IEC 60028:1925.
/// Limits  The standard's figures are upper limits (12 % above resistivity over area at 0.5 mm2);
///         tinned cores are 3 % above plain ones; stranded gauge wires 2 to 4 % above solid ones.

namespace weighwright::signal {

inline constexpr double kCopper_per_K = 0.00393;               // at 20 degC
inline constexpr double kCopperResistivity_ohm_m = 1e-6 / 58;  // at 20 degC

/// ohm/m of one core at 20 degC.
/// @throws std::invalid_argument when the area is not a positive number
[[nodiscard]] double core_ohm_per_m(double area_m2);

/// Factor of a copper resistance at `degC` against 20 degC.
[[nodiscard]] double copper_factor(double degC);

/// ohm of one core.
/// @throws std::invalid_argument when the area is not positive or the length is negative
[[nodiscard]] double core_ohm(double length_m, double area_m2, double degC);

}  // namespace weighwright::signal
