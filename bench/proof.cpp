/// How long the Monte Carlo method takes for the whole weighing model (26 inputs, six steps of
/// substitution), and what it finds, beside the analytic result (Google Benchmark).

#include <benchmark/benchmark.h>

#include "proof/weighing_model.h"

namespace {

using namespace weighwright::proof;

constexpr double kCoverage = 0.9545;
constexpr std::int64_t kMillion = 1'000'000;

void report(benchmark::State& state, const Budget& analytic, const Sampled& sampled) {
  const Validation interval =
      validate(weighing::kError_kg, analytic.U_kg, analytic.u_kg, 2, sampled);
  state.counters["u_analytic"] = analytic.u_kg;
  state.counters["u_sampled"] = sampled.u;
  state.counters["U_analytic"] = analytic.U_kg;
  state.counters["U_sampled"] = (sampled.high - sampled.low) / 2.0;
  state.counters["delta_2_digits"] = interval.delta;
  state.counters["interval_holds_2_digits"] = interval.holds ? 1.0 : 0.0;
  state.counters["trials"] = static_cast<double>(sampled.trials);
}

/// Argument: degrees of freedom of the repeatability, 0: known.
void a_million_trials(benchmark::State& state) {
  const std::vector<weighing::Part> parts = weighing::parts(static_cast<int>(state.range(0)));
  const std::vector<Input> inputs = weighing::inputs(parts);
  const Model model = [&parts](std::span<const double> draws, int count, std::span<double> out) {
    weighing::error(parts, draws, count, out);
  };
  MonteCarloOptions options;
  options.coverage = kCoverage;
  options.shortest = state.range(1) != 0;
  Sampled sampled;
  for (auto _ : state) {
    sampled = monte_carlo_fixed(inputs, model, kMillion, options);
    benchmark::DoNotOptimize(sampled);
  }
  report(state, weighing::analytic(parts, kCoverage), sampled);
}
BENCHMARK(a_million_trials)
    ->ArgNames({"dof", "shortest"})
    ->Args({0, 0})
    ->Args({5, 0})
    ->Args({5, 1})
    ->Unit(benchmark::kMillisecond);

void adaptive_to_one_digit(benchmark::State& state) {
  const std::vector<weighing::Part> parts = weighing::parts(5);
  const std::vector<Input> inputs = weighing::inputs(parts);
  const Model model = [&parts](std::span<const double> draws, int count, std::span<double> out) {
    weighing::error(parts, draws, count, out);
  };
  MonteCarloOptions options;
  options.coverage = kCoverage;
  options.digits = 1;
  options.tighter = 5.0;
  options.shortest = false;
  Sampled sampled;
  for (auto _ : state) {
    sampled = monte_carlo(inputs, model, options);
    benchmark::DoNotOptimize(sampled);
  }
  report(state, weighing::analytic(parts, kCoverage), sampled);
}
BENCHMARK(adaptive_to_one_digit)->Unit(benchmark::kMillisecond);

}  // namespace
