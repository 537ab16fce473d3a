#include "statics/beam.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace weighwright::statics {

Eigen::Vector4d beam_shapes(double s_m, double length_m) {
  const double t = s_m / length_m;
  return {1.0 - t * t * (3.0 - 2.0 * t), s_m * (1.0 - t) * (1.0 - t), t * t * (3.0 - 2.0 * t),
          s_m * t * (t - 1.0)};
}

Eigen::Matrix4d bending_stiffness(double bending_Nm2, double length_m) {
  const double l = length_m;
  const double k = bending_Nm2 / (l * l * l);
  Eigen::Matrix4d m;
  m << 12.0, 6.0 * l, -12.0, 6.0 * l,               //
      6.0 * l, 4.0 * l * l, -6.0 * l, 2.0 * l * l,  //
      -12.0, -6.0 * l, 12.0, -6.0 * l,              //
      6.0 * l, 2.0 * l * l, -6.0 * l, 4.0 * l * l;
  return k * m;
}

Eigen::Matrix2d torsion_stiffness(double twisting_Nm2, double length_m) {
  const double k = twisting_Nm2 / length_m;
  Eigen::Matrix2d m;
  m << k, -k, -k, k;
  return m;
}

double clamped_deflection(double s_m, double a_m, double length_m) {
  const double s = std::min(s_m, a_m);  // reciprocal
  const double a = std::max(s_m, a_m);
  const double b = length_m - a;
  return b * b * s * s * (3.0 * a * length_m - s * (3.0 * a + b)) /
         (6.0 * length_m * length_m * length_m);
}

double cantilever_deflection(double s_m, double a_m) {
  const double s = std::min(s_m, a_m);
  const double a = std::max(s_m, a_m);
  return s * s * (3.0 * a - s) / 6.0;
}

Eigen::VectorXd lever_shares(const std::vector<double>& points_m, double y_m) {
  const auto count = static_cast<Eigen::Index>(points_m.size());
  Eigen::VectorXd shares = Eigen::VectorXd::Zero(count);
  std::size_t upper = 1;
  while (upper + 1 < points_m.size() && points_m[upper] < y_m) ++upper;
  const double low = points_m[upper - 1];
  const double high = points_m[upper];
  const auto at = static_cast<Eigen::Index>(upper);
  shares(at) = (y_m - low) / (high - low);
  shares(at - 1) = (high - y_m) / (high - low);
  return shares;
}

Eigen::VectorXd spread_shares(const std::vector<double>& points_m, double width_m) {
  if (!(width_m > 0.0)) return lever_shares(points_m, 0.0);
  // Lever shares are straight between lines: the middle of each stretch stands for the stretch.
  std::vector<double> cuts = {-width_m / 2.0, width_m / 2.0};
  for (std::size_t i = 1; i + 1 < points_m.size(); ++i) {
    if (std::abs(points_m[i]) < width_m / 2.0) cuts.push_back(points_m[i]);
  }
  std::sort(cuts.begin(), cuts.end());
  Eigen::VectorXd shares = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(points_m.size()));
  for (std::size_t i = 1; i < cuts.size(); ++i) {
    const double middle = 0.5 * (cuts[i - 1] + cuts[i]);
    shares += (cuts[i] - cuts[i - 1]) / width_m * lever_shares(points_m, middle);
  }
  return shares;
}

}  // namespace weighwright::statics
