#include "proof/monte_carlo.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "proof/coverage_interval.h"
#include "proof/sampling.h"

namespace weighwright::proof {
namespace {

constexpr int kBatch = 512;               // trials drawn at once: what stays in a core's cache
constexpr std::int64_t kFewest = 10'000;  // trials of a block, 7.9.4 b)
constexpr double kConfidence = 2.0;       // standard deviations of a block mean, 7.9.4 k)
constexpr double kRoundingNoise = 1e-12;  // of 100/(1 - p)

/// Runs the model and keeps the values.
class Trials {
 public:
  Trials(std::span<const Input> inputs, const Model& model, std::uint64_t seed)
      : inputs_(inputs.size()), model_(model), sampler_(inputs, seed) {}

  std::span<double> add(std::int64_t count) {
    const std::size_t before = values_.size();
    values_.resize(before + static_cast<std::size_t>(count));
    const std::span<double> added = std::span(values_).subspan(before);
    for (std::size_t done = 0; done < added.size();) {
      const std::size_t batch = std::min<std::size_t>(kBatch, added.size() - done);
      draws_.resize(inputs_ * batch);
      sampler_.draw(static_cast<int>(batch), draws_);
      model_(draws_, static_cast<int>(batch), added.subspan(done, batch));
      done += batch;
    }
    return added;
  }

  std::span<double> all() { return values_; }

 private:
  std::size_t inputs_;
  const Model& model_;
  Sampler sampler_;
  std::vector<double> draws_;
  std::vector<double> values_;
};

/// 7.6 and 7.7. Reorders the values.
Sampled summary(std::span<double> values, const MonteCarloOptions& options) {
  Sampled of;
  of.trials = static_cast<std::int64_t>(values.size());
  if (values.size() < 2) {
    if (!values.empty()) of.mean = of.low = of.high = values.front();
    return of;
  }
  const auto count = static_cast<double>(values.size());
  // From the first value on: alike values then have no spread, and close ones lose no digits.
  double away = 0.0;
  for (const double value : values) away += value - values.front();
  of.mean = values.front() + away / count;
  double squares = 0.0;
  for (const double value : values) squares += (value - of.mean) * (value - of.mean);
  of.u = std::sqrt(squares / (count - 1.0));
  const CoverageInterval interval = options.shortest ? shortest_interval(values, options.coverage)
                                                     : symmetric_interval(values, options.coverage);
  of.low = interval.low;
  of.high = interval.high;
  return of;
}

/// Twice the standard deviation of the mean of one result over the blocks, 7.9.4 g) and h).
double doubt(const std::vector<Sampled>& blocks, double Sampled::* result) {
  const auto count = static_cast<double>(blocks.size());
  double mean = 0.0;
  for (const Sampled& block : blocks) mean += block.*result / count;
  double squares = 0.0;
  for (const Sampled& block : blocks) {
    squares += (block.*result - mean) * (block.*result - mean);
  }
  return kConfidence * std::sqrt(squares / (count * (count - 1.0)));
}

/// Standard deviation of all values from those of blocks of one size, 7.9.4 i).
double pooled_u(const std::vector<Sampled>& blocks) {
  const auto size = static_cast<double>(blocks.front().trials);
  const auto count = static_cast<double>(blocks.size());
  double mean = 0.0;
  for (const Sampled& block : blocks) mean += block.mean / count;
  double squares = 0.0;
  for (const Sampled& block : blocks) {
    squares += (size - 1.0) * block.u * block.u + size * (block.mean - mean) * (block.mean - mean);
  }
  return std::sqrt(squares / (size * count - 1.0));
}

double tolerance_of(double u, const MonteCarloOptions& options) {
  return u > 0.0 ? numerical_tolerance(u, options.digits) / options.tighter : 0.0;
}

bool settled(const std::vector<Sampled>& blocks, double delta) {
  for (const auto result : {&Sampled::mean, &Sampled::u, &Sampled::low, &Sampled::high}) {
    if (doubt(blocks, result) > delta) return false;
  }
  return true;
}

/// 7.9.4 b).
std::int64_t block_size(double coverage) {
  const double least = std::ceil(100.0 / (1.0 - coverage) * (1.0 - kRoundingNoise));
  return std::max(kFewest, static_cast<std::int64_t>(least));
}

}  // namespace

double numerical_tolerance(double u, int digits) {
  int exponent = static_cast<int>(std::floor(std::log10(u))) - (digits - 1);
  // Rounding may carry: 0.0996 to two digits is 10 * 10^-2.
  if (std::round(u / std::pow(10.0, exponent)) >= std::pow(10.0, digits)) ++exponent;
  return 0.5 * std::pow(10.0, exponent);
}

Sampled monte_carlo(std::span<const Input> inputs,
                    const Model& model,
                    const MonteCarloOptions& options) {
  Trials trials(inputs, model, options.seed);
  const std::int64_t size = block_size(options.coverage);
  std::vector<Sampled> blocks;
  blocks.push_back(summary(trials.add(size), options));
  double delta = 0.0;
  bool stable = false;
  do {
    blocks.push_back(summary(trials.add(size), options));
    delta = tolerance_of(pooled_u(blocks), options);
    stable = settled(blocks, delta);
  } while (!stable && size * (static_cast<std::int64_t>(blocks.size()) + 1) <= options.most);
  Sampled sampled = summary(trials.all(), options);
  sampled.delta = delta;
  sampled.stable = stable;
  return sampled;
}

Sampled monte_carlo_fixed(std::span<const Input> inputs,
                          const Model& model,
                          std::int64_t trials,
                          const MonteCarloOptions& options) {
  Trials run(inputs, model, options.seed);
  Sampled sampled = summary(run.add(trials), options);
  sampled.delta = tolerance_of(sampled.u, options);
  return sampled;
}

Validation validate(double y, double U, double u, int digits, const Sampled& sampled) {
  Validation validation;
  validation.d_low = std::abs(y - U - sampled.low);
  validation.d_high = std::abs(y + U - sampled.high);
  validation.delta = numerical_tolerance(u, digits);
  validation.holds = validation.d_low <= validation.delta && validation.d_high <= validation.delta;
  return validation;
}

}  // namespace weighwright::proof
