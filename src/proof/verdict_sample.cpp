#include "proof/verdict_sample.h"

#include <cmath>
#include <cstddef>
#include <span>

#include "proof/line_budget.h"
#include "proof/substitute_strain.h"

namespace weighwright::proof {
namespace {

constexpr int kSignificant = 1;  // digits of u; errors are judged in divisions, not in grams
constexpr double kTighter = 5.0;
constexpr std::int64_t kMost = 1'000'000;
constexpr int kMostDof = 30;  // beyond, the standard deviation is as good as known

/// One loaded reading: its coefficient in the error, and where its draws are.
struct Reading {
  double coefficient = 1.0;
  std::size_t rounding = 0;
  std::size_t noise = 0;
};

/// Inputs and where each of them is.
struct Setting {
  std::vector<Input> inputs;
  double error_kg = 0.0;
  double weighed_kg = 0.0;  // that a load's place acts on
  double standards_kg = 0.0;
  double s_kg = 0.0;
  std::size_t zero = 0;
  std::size_t place = 0;
  std::size_t weights = 0;
  std::size_t drift = 0;
  std::size_t buoyancy = 0;
  std::vector<Reading> readings;
  std::size_t first_squared = 0;
  int dof = 0;  // normal draws for the shared standard deviation; 0: it is known
};

std::size_t input(Setting& setting, Shape shape, double u) {
  setting.inputs.push_back({.shape = shape, .mean = 0.0, .u = u, .dof = 0.0});
  return setting.inputs.size() - 1;
}

void add_reading(Setting& setting, double coefficient, double step_kg) {
  Reading reading;
  reading.coefficient = coefficient;
  reading.rounding = input(setting, Shape::rectangular, u_of_step(step_kg));
  reading.noise = input(setting, Shape::normal, 1.0);
  setting.readings.push_back(reading);
}

/// Zero is one more rounding; of a strain test the start is one more reading.
void add_zero(const Evidence& evidence, const Row& row, Setting& setting) {
  const std::optional<double> step = zero_step_kg(evidence, row);
  const bool strain = is_by_strain(evidence, row);
  if (strain) add_reading(setting, -1.0, step.value_or(0.0));
  const double half = step ? *step / 2.0 : unread_zero_kg(evidence);
  setting.zero = input(setting, Shape::rectangular, strain ? 0.0 : u_of_limits(half));
}

void add_standards(const Evidence& evidence, const Known& load, Setting& setting) {
  setting.standards_kg = load.standards_kg;
  setting.weights =
      input(setting, load.certified ? Shape::normal : Shape::rectangular, load.u_weights_kg);
  setting.drift = input(setting, Shape::rectangular, u_of_limits(load.drift_kg));
  setting.buoyancy = input(setting, Shape::normal, buoyancy_of(evidence, load));
}

void add_deviation(const Evidence& evidence, Setting& setting) {
  setting.s_kg = evidence.repeats.s_kg;
  const double dof = evidence.repeats.dof;
  if (!evidence.repeats.measured || dof > kMostDof) return;
  setting.dof = static_cast<int>(std::lround(dof));
  setting.first_squared = setting.inputs.size();
  for (int i = 0; i < setting.dof; ++i) input(setting, Shape::normal, 1.0);
}

Setting setting_of(const Evidence& evidence, const Row& row, const JudgedLine& line) {
  Setting setting;
  setting.error_kg = line.error_kg;
  add_reading(setting, 1.0, row.shown.step_kg);
  add_zero(evidence, row, setting);
  const double share = stands_anywhere(row.check) ? evidence.eccentric_share : 0.0;
  setting.weighed_kg = weighed_kg(evidence, row);
  setting.place = input(setting, Shape::rectangular, share);
  const Known& load = load_of_error(evidence, row);
  add_standards(evidence, load, setting);
  // What gave a substitute its worth is taken off with the load.
  for (const auto& [index, coefficient] : load.readings) {
    add_reading(setting, -coefficient,
                evidence.rows[static_cast<std::size_t>(index)].shown.step_kg);
  }
  add_deviation(evidence, setting);
  return setting;
}

/// Draws of one trial.
class Draw {
 public:
  Draw(std::span<const double> draws, int count, int trial)
      : draws_(draws),
        count_(static_cast<std::size_t>(count)),
        trial_(static_cast<std::size_t>(trial)) {}
  [[nodiscard]] double operator[](std::size_t input) const {
    return draws_[input * count_ + trial_];
  }

 private:
  std::span<const double> draws_;
  std::size_t count_;
  std::size_t trial_;
};

double deviation_of(const Setting& setting, const Draw& draw) {
  if (setting.dof == 0) return setting.s_kg;
  double chi2 = 0.0;
  for (int i = 0; i < setting.dof; ++i) {
    const double normal = draw[setting.first_squared + static_cast<std::size_t>(i)];
    chi2 += normal * normal;
  }
  return setting.s_kg * std::sqrt(setting.dof / chi2);
}

double error_of(const Setting& setting, const Draw& draw) {
  const double s = deviation_of(setting, draw);
  double indicated = setting.error_kg - draw[setting.zero];
  for (const Reading& reading : setting.readings) {
    indicated += reading.coefficient * (draw[reading.rounding] + s * draw[reading.noise]);
  }
  const double placed = setting.weighed_kg * draw[setting.place];
  const double standards =
      draw[setting.weights] + draw[setting.drift] + setting.standards_kg * draw[setting.buoyancy];
  return indicated + placed - standards;
}

}  // namespace

std::optional<SampledLine> sample_line(const Evidence& evidence,
                                       const Row& row,
                                       const JudgedLine& line) {
  if (!row.load || !line.budget || !(line.budget->u_kg > 0.0)) return std::nullopt;
  const Setting setting = setting_of(evidence, row, line);
  const Model model = [&setting](std::span<const double> draws, int count, std::span<double> out) {
    for (int trial = 0; trial < count; ++trial) {
      out[static_cast<std::size_t>(trial)] = error_of(setting, Draw(draws, count, trial));
    }
  };
  MonteCarloOptions options;
  options.coverage = evidence.what.coverage;
  options.digits = kSignificant;
  options.shortest = false;  // the distribution is symmetric
  options.most = kMost;
  options.tighter = kTighter;
  SampledLine result;
  result.sampled = monte_carlo(setting.inputs, model, options);
  result.validation =
      validate(line.error_kg, line.budget->U_kg, line.budget->u_kg, kSignificant, result.sampled);
  return result;
}

}  // namespace weighwright::proof
