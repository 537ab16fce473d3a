#include "proof/increasing_loads.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "rules/nominal_load.h"

namespace weighwright::proof {
namespace {

using Kind = IncreasingLoad::Kind;

constexpr double kBelow = 0.02;     // of a wanted load: common practice, no source
constexpr double kAboveMin = 0.1;   // of Min: the same
constexpr int kFirstSteps = 2;      // where there are many: these are always among them
constexpr double kLeastGap = 0.05;  // of the greatest: where there are many, none so near to it
constexpr double kSlack = 1e-9;     // sums of decimal weights

/// @param above_kg  so much more does as well
IncreasingLoad wanted(Kind kind, double kg, double above_kg) {
  return {.kind = kind, .kg = kg, .least_kg = (1.0 - kBelow) * kg, .most_kg = kg + above_kg};
}

/// The first ones, and from there evenly towards the last, which is nearest to the greatest load.
std::vector<double> a_few_of(std::vector<double> steps, double greatest_kg) {
  if (steps.size() <= static_cast<std::size_t>(kMostSteps)) return steps;
  std::erase_if(steps, [&](double kg) { return kg >= (1.0 - kLeastGap) * greatest_kg; });
  if (steps.size() <= static_cast<std::size_t>(kMostSteps)) return steps;
  std::vector<double> few(steps.begin(), steps.begin() + kFirstSteps);
  const double first = kFirstSteps - 1.0;
  const double all = static_cast<double>(steps.size()) - first;
  const int more = kMostSteps - kFirstSteps;
  for (int k = 1; k <= more; ++k) {
    const double at = first + all * k / (more + 1.0);
    few.push_back(steps[static_cast<std::size_t>(std::lround(at))]);
  }
  return few;
}

/// Which of many steps is taken is of no weight: what lies nearer to it than to its neighbours.
void widen_spread(std::vector<IncreasingLoad>& loads) {
  int step = 0;
  for (std::size_t i = 0; i + 1 < loads.size(); ++i) {
    if (loads[i].kind != Kind::step || ++step <= kFirstSteps) continue;
    loads[i].least_kg = std::min(loads[i].least_kg, (loads[i - 1].kg + loads[i].kg) / 2.0);
    loads[i].most_kg = std::max(loads[i].most_kg, (loads[i].kg + loads[i + 1].kg) / 2.0);
  }
}

}  // namespace

bool IncreasingLoad::is_met_by(double load_kg) const {
  const double slack = kSlack * kg;
  return load_kg >= least_kg - slack && load_kg <= most_kg + slack;
}

std::vector<IncreasingLoad> increasing_loads(const rules::Rulebook& rulebook,
                                             const rules::Scale& scale,
                                             rules::Occasion occasion,
                                             double greatest_kg) {
  std::vector<IncreasingLoad> loads;
  if (!(greatest_kg > 0.0)) return loads;
  if (const double least = rules::least_load_kg(rulebook, scale);
      least > 0.0 && least < greatest_kg) {
    loads.push_back(wanted(Kind::least, least, kAboveMin * least));
  }
  std::vector<double> steps;
  for (const double step : rules::break_loads_kg(rulebook, scale)) {
    // Where the greatest load counts as the step it is the step.
    const bool below = step < greatest_kg;
    if (below && !rules::is_at_most(rulebook, scale, occasion, greatest_kg, step)) {
      steps.push_back(step);
    }
  }
  const auto allowance = [&](double kg) {
    return rules::nominal_allowance_kg(rulebook, scale, occasion, kg);
  };
  const std::vector<double> few = a_few_of(steps, greatest_kg);
  for (const double step : few) loads.push_back(wanted(Kind::step, step, allowance(step)));
  loads.push_back(wanted(Kind::greatest, greatest_kg, allowance(greatest_kg)));
  if (few.size() < steps.size()) widen_spread(loads);
  return loads;
}

}  // namespace weighwright::proof
