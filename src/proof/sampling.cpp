#include "proof/sampling.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <numbers>

namespace weighwright::proof {
namespace {

using chance::CounterRandom;

/// Gamma of shape `a`, scale 1. @pre a > 0
double gamma(CounterRandom& random, double a) {
  if (a < 1.0) {
    const double above = gamma(random, a + 1.0);
    return above * std::pow(random.uniform(), 1.0 / a);
  }
  const double d = a - 1.0 / 3.0;
  const double c = 1.0 / std::sqrt(9.0 * d);
  while (true) {
    const double x = random.normal();
    const double root = 1.0 + c * x;
    if (root <= 0.0) continue;
    const double v = root * root * root;
    if (std::log(random.uniform()) < 0.5 * x * x + d * (1.0 - v + std::log(v))) return d * v;
  }
}

/// From -1 to 1.
double even(CounterRandom& random) {
  return 2.0 * random.uniform() - 1.0;
}

void draw_normal(const Input& input, CounterRandom& random, std::span<double> out) {
  for (double& value : out) value = input.mean + input.u * random.normal();
}

void draw_rectangular(const Input& input, CounterRandom& random, std::span<double> out) {
  const double half_width = input.u * std::sqrt(3.0);
  if (input.limits_within > 0.0) {
    for (double& value : out) {
      const double width = half_width + input.limits_within * even(random);
      value = input.mean + width * even(random);
    }
    return;
  }
  for (double& value : out) value = input.mean + half_width * even(random);
}

void draw_triangular(const Input& input, CounterRandom& random, std::span<double> out) {
  const double half_width = input.u * std::sqrt(6.0);
  for (double& value : out) {
    const double first = random.uniform();
    value = input.mean + half_width * (first + random.uniform() - 1.0);
  }
}

void draw_arcsine(const Input& input, CounterRandom& random, std::span<double> out) {
  const double amplitude = input.u * std::sqrt(2.0);
  for (double& value : out) {
    value = input.mean + amplitude * std::sin(2.0 * std::numbers::pi * random.uniform());
  }
}

void draw_student(const Input& input,
                  CounterRandom& random,
                  std::span<const double> scales,
                  std::span<double> out) {
  for (std::size_t t = 0; t < out.size(); ++t) {
    out[t] = input.mean + input.u * scales[t] * random.normal();
  }
}

}  // namespace

Sampler::Sampler(std::span<const Input> inputs, std::uint64_t seed) {
  CounterRandom keys(seed);
  std::vector<int> estimates;
  for (const Input& input : inputs) {
    // Two keys an input, whether it needs both or not: so that streams don't shift.
    Column column{input, CounterRandom(keys.bits()), -1};
    const std::uint64_t spread_key = keys.bits();
    if (input.shape == Shape::student) add_spread(column, estimates, spread_key);
    columns_.push_back(column);
  }
}

void Sampler::add_spread(Column& column, std::vector<int>& estimates, std::uint64_t seed) {
  const int estimate = column.input.estimate;
  const auto known = std::find(estimates.begin(), estimates.end(), estimate);
  if (estimate != 0 && known != estimates.end()) {
    column.spread = static_cast<int>(std::distance(estimates.begin(), known));
    return;
  }
  column.spread = static_cast<int>(spreads_.size());
  estimates.push_back(estimate);
  spreads_.push_back({column.input.dof, CounterRandom(seed), {}});
}

void Sampler::draw(int count, std::span<double> draws) {
  const auto size = static_cast<std::size_t>(count);
  for (Spread& spread : spreads_) {
    spread.scales.resize(size);
    for (double& scale : spread.scales) {
      const double chi_squared = 2.0 * gamma(spread.random, spread.dof / 2.0);
      scale = std::sqrt(spread.dof / chi_squared);
    }
  }
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    Column& column = columns_[i];
    const std::span<double> out = draws.subspan(i * size, size);
    switch (column.input.shape) {
      case Shape::normal:
        draw_normal(column.input, column.random, out);
        break;
      case Shape::rectangular:
        draw_rectangular(column.input, column.random, out);
        break;
      case Shape::triangular:
        draw_triangular(column.input, column.random, out);
        break;
      case Shape::arcsine:
        draw_arcsine(column.input, column.random, out);
        break;
      case Shape::student:
        draw_student(column.input, column.random,
                     spreads_[static_cast<std::size_t>(column.spread)].scales, out);
        break;
    }
  }
}

}  // namespace weighwright::proof
