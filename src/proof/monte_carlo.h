#pragma once
/// Propagation of distributions by the adaptive Monte Carlo method.
///
/// Source  JCGM 101:2008, 7.9 (adaptive procedure), 7.9.2 (numerical tolerance), 7.7 (coverage
///         intervals), 8.1 (validation of the analytic result), 6.4 (assignment of distributions).
/// Random  own counter generator, so that a result repeats on every machine (chance/). No thread.
///         The last digits may differ where a machine's log, sin or sqrt does.
/// Limits  inputs are independent, but for what the model itself makes of them and for spreads of
///         one estimate. All trials are kept: 8 bytes each.

#include <cstdint>
#include <functional>
#include <span>
#include <vector>

#include "proof/budget.h"

namespace weighwright::proof {

/// One input quantity: `u` is the standard deviation of its distribution. Student: t of `dof`
/// scaled by `u`, whose own standard deviation is greater; inputs of one `estimate` (not 0) have
/// the same unknown standard deviation, drawn once a trial. Rectangular with `limits_within` > 0:
/// both limits are known to within that only, and move together away from the middle (6.4.3);
/// `u` is that of the rectangle as stated.
struct Input {
  Shape shape = Shape::normal;
  double mean = 0.0;
  double u = 0.0;
  double dof = 0.0;  // student only, > 0; the same for all of one estimate
  int estimate = 0;  // student only
  double limits_within = 0.0;
};

/// Value of the measurand from one draw of the inputs. Called with blocks: `draws` holds inputs
/// columnwise, `count` values each (draws[i * count + t]); writes `count` values.
using Model = std::function<void(std::span<const double> draws, int count, std::span<double> out)>;

struct Sampled {
  double mean = 0.0;
  double u = 0.0;
  double low = 0.0;  // coverage interval, shortest or symmetric as was asked
  double high = 0.0;
  std::int64_t trials = 0;
  double delta = 0.0;   // numerical tolerance of u
  bool stable = false;  // within `most` trials; a fixed number of them is never called stable
};

struct MonteCarloOptions {
  double coverage = 0.95;
  int digits = 2;                 // of u, meaningful
  bool shortest = true;           // else probabilistically symmetric
  std::int64_t most = 5'000'000;  // trials
  double tighter = 1.0;           // tolerance divided by this (validation: 5)
  std::uint64_t seed = 1;
};

/// Numerical tolerance: u as c * 10^l with `digits` digits, half of 10^l. @pre u > 0
[[nodiscard]] double numerical_tolerance(double u, int digits);

[[nodiscard]] Sampled monte_carlo(std::span<const Input> inputs,
                                  const Model& model,
                                  const MonteCarloOptions& options);

/// A fixed number of trials, no adaption: for the bench and for validation.
[[nodiscard]] Sampled monte_carlo_fixed(std::span<const Input> inputs,
                                        const Model& model,
                                        std::int64_t trials,
                                        const MonteCarloOptions& options);

struct Validation {
  double d_low = 0.0;
  double d_high = 0.0;
  double delta = 0.0;
  bool holds = false;
};
/// Analytic result against the sampled one (8.1).
[[nodiscard]] Validation validate(double y, double U, double u, int digits, const Sampled& sampled);

}  // namespace weighwright::proof
