#include "job/electric_words.h"

#include <fmt/format.h>

#include <array>
#include <cmath>

namespace weighwright::job {
namespace {

struct Step {
  double least;
  double factor;
  const char* unit;
};

constexpr double kNothing_V = 0.5e-9;  // no meter on a site shows less

/// The figure in the first unit in which it is not below 1 (as rounded), else in the last.
template <std::size_t count>
std::string in_steps(double value, const std::array<Step, count>& steps) {
  for (const Step& step : steps) {
    if (std::abs(value) >= step.least * 0.99995) {
      return fmt::format("{:.4g} {}", value * step.factor, step.unit);
    }
  }
  return fmt::format("{:.4g} {}", value * steps.back().factor, steps.back().unit);
}

}  // namespace

std::string voltage_words(double value_V) {
  static constexpr std::array kSteps = {Step{1.0, 1.0, "V"}, Step{1e-3, 1e3, "mV"},
                                        Step{0.0, 1e6, "uV"}};
  if (std::abs(value_V) < kNothing_V) return "0 mV";
  return in_steps(value_V, kSteps);
}

std::string resistance_words(double value_ohm) {
  static constexpr std::array kSteps = {Step{1e9, 1e-9, "Gohm"}, Step{1e6, 1e-6, "Mohm"},
                                        Step{1e4, 1e-3, "kohm"}, Step{0.0, 1.0, "ohm"}};
  if (!std::isfinite(value_ohm)) return "open";
  return in_steps(value_ohm, kSteps);
}

std::string current_words(double value_A) {
  return fmt::format("{:.3g} mA", value_A * 1e3);
}

std::string share_words(double share) {
  if (std::abs(share) < 5e-9) return "0 %";
  const double percent = share * 100.0;
  return std::abs(percent) < 10.0 ? fmt::format("{:.2g} %", percent)
                                  : fmt::format("{:.0f} %", percent);
}

std::string quantity_words(double value, const std::string& unit) {
  if (unit == "V") return std::isfinite(value) ? voltage_words(value) : "beyond the meter";
  if (unit == "ohm") return resistance_words(value);
  return fmt::format("{:.4g}{}{}", value, unit.empty() ? "" : " ", unit);
}

}  // namespace weighwright::job
