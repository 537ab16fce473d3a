#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

#include "proof/conformity.h"

namespace weighwright::proof {
namespace {

using Quadrature = boost::math::quadrature::gauss_kronrod<double, 31>;

constexpr double kFar = 10.0;  // standard deviations, beyond which a normal density is nothing
constexpr unsigned kDepth = 12;
constexpr double kTolerance = 1e-12;

/// Where a density of items or the chance of acceptance bends: whole steps for the quadrature.
std::vector<double> knots(double from, double to, double u_m, const std::vector<double>& edges) {
  std::vector<double> all = {from, to};
  for (const double edge : edges) {
    for (const double away : {-kFar, 0.0, kFar}) all.push_back(edge + away * u_m);
  }
  for (double& knot : all) knot = std::clamp(knot, from, to);
  std::sort(all.begin(), all.end());
  return all;
}

}  // namespace

Risks global_risks(const std::function<double(double)>& density,
                   double from,
                   double to,
                   double u_m,
                   const Tolerance& tolerance) {
  const std::vector<double> steps =
      knots(from, to, u_m,
            {tolerance.lower, tolerance.upper, tolerance.accept_lower, tolerance.accept_upper});
  Risks risks;
  for (std::size_t i = 0; i + 1 < steps.size(); ++i) {
    if (!(steps[i] < steps[i + 1])) continue;
    const double middle = (steps[i] + steps[i + 1]) / 2.0;
    const bool conforms = middle >= tolerance.lower && middle <= tolerance.upper;
    const auto wrong = [&](double item) {
      const double accepted = p_within(item, u_m, tolerance.accept_lower, tolerance.accept_upper);
      return density(item) * (conforms ? 1.0 - accepted : accepted);
    };
    const double part = Quadrature::integrate(wrong, steps[i], steps[i + 1], kDepth, kTolerance);
    (conforms ? risks.producer : risks.consumer) += part;
  }
  return risks;
}

Risks global_risks(double y0,
                   double u0,
                   double u_m,
                   double lower,
                   double upper,
                   double accept_lower,
                   double accept_upper) {
  const Tolerance tolerance{lower, upper, accept_lower, accept_upper};
  if (!(u0 > 0.0)) {
    const double accepted = p_within(y0, u_m, accept_lower, accept_upper);
    const bool conforms = y0 >= lower && y0 <= upper;
    return conforms ? Risks{0.0, 1.0 - accepted} : Risks{accepted, 0.0};
  }
  const auto density = [y0, u0](double item) {
    const double z = (item - y0) / u0;
    return std::exp(-z * z / 2.0) / (u0 * std::sqrt(2.0 * std::numbers::pi));
  };
  return global_risks(density, y0 - kFar * u0, y0 + kFar * u0, u_m, tolerance);
}

}  // namespace weighwright::proof
