#pragma once
/// Exact Euler beam: shapes, element stiffness, levers. Freedoms of a bending element:
/// w1, slope1, w2, slope2.
///
/// Source  Logan, A First Course in the Finite Element Method, beam element and eq. (5.4.17);
///         the cubic shapes solve EI w'''' = 0, so that nodal values under any load are exact with
///         forces equal to the load times the shapes (fixed-end forces).

#include <Eigen/Core>
#include <vector>

namespace weighwright::statics {

/// Cubic shapes at s from node 1 of an element of the given length.
[[nodiscard]] Eigen::Vector4d beam_shapes(double s_m, double length_m);

/// Bending stiffness, 4 x 4.
[[nodiscard]] Eigen::Matrix4d bending_stiffness(double bending_Nm2, double length_m);

/// Torsion stiffness of a bar, 2 x 2.
[[nodiscard]] Eigen::Matrix2d torsion_stiffness(double twisting_Nm2, double length_m);

/// Deflection at s of a beam clamped at both ends under 1 N at a, times EI (AISC Manual, table
/// 3-23, fixed beam with a point load, from memory; it follows from a cubic on either side of the
/// load).
[[nodiscard]] double clamped_deflection(double s_m, double a_m, double length_m);

/// Deflection at s of a cantilever under 1 N at a, both from the clamp, times EI: s2 (3 a - s) / 6.
[[nodiscard]] double cantilever_deflection(double s_m, double a_m);

/// Straight line through the two neighbours of y (or the two outermost): shares of each point.
/// @pre at least two points, ascending
[[nodiscard]] Eigen::VectorXd lever_shares(const std::vector<double>& points_m, double y_m);

/// Shares of a load spread evenly from -width/2 to width/2 (at y = 0 when the width is 0).
[[nodiscard]] Eigen::VectorXd spread_shares(const std::vector<double>& points_m, double width_m);

}  // namespace weighwright::statics
