#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "report/proof_view.h"
#include "units/quantity.h"

namespace weighwright::report {
namespace {

constexpr int kMostDecimals = 4;
constexpr int kMostFine = 6;  // of an uncertainty: a milligram

/// Decimals that `value` needs to be told within half of 10^-most.
int decimals_needed(double value, int most) {
  for (int decimals = 0; decimals < most; ++decimals) {
    const double scale = std::pow(10.0, decimals);
    if (std::abs((value * scale) - std::round(value * scale)) <
        0.5 * std::pow(10.0, decimals - most))
      return decimals;
  }
  return most;
}

/// A hundredth of the interval is told, nothing finer: no display or small weight reads finer.
int finest_decimals(const ProofView& view) {
  const double step = in_unit(view, view.interval_kg) / 100.0;
  if (!(step > 0.0)) return 1;
  return std::clamp(static_cast<int>(std::ceil(-std::log10(step) - 1e-9)), 0, kMostDecimals);
}

std::string figure(double value, int decimals, bool plus) {
  const std::string text = units::print_fixed(value, decimals);
  return plus && text.find_first_of("123456789") != std::string::npos && value > 0.0 ? "+" + text
                                                                                     : text;
}

std::vector<std::string> figures(const ProofView& view,
                                 const std::vector<std::optional<double>>& column_kg,
                                 int decimals,
                                 bool plus) {
  std::vector<std::string> texts;
  texts.reserve(column_kg.size());
  for (const std::optional<double>& value : column_kg) {
    texts.push_back(value && std::isfinite(*value) ? figure(in_unit(view, *value), decimals, plus)
                                                   : "-");
  }
  return texts;
}

}  // namespace

const ProofLineView* leading_line(const ProofView& view) {
  if (view.leading >= 0 && static_cast<std::size_t>(view.leading) < view.lines.size())
    return &view.lines[static_cast<std::size_t>(view.leading)];
  const ProofLineView* leading = nullptr;
  double worst = -1.0;
  for (const ProofLineView& line : view.lines) {
    if (line.terms.empty() || !line.limit_kg || !(*line.limit_kg > 0.0)) continue;
    const double share = std::abs(line.error_kg) / *line.limit_kg;
    if (share <= worst) continue;
    worst = share;
    leading = &line;
  }
  return leading;
}

std::vector<std::string> mass_figures(const ProofView& view,
                                      const std::vector<std::optional<double>>& column_kg,
                                      bool plus) {
  const int most = finest_decimals(view);
  int decimals = 0;
  for (const std::optional<double>& value : column_kg) {
    if (value && std::isfinite(*value))
      decimals = std::max(decimals, decimals_needed(in_unit(view, *value), most));
  }
  return figures(view, column_kg, decimals, plus);
}

std::string mass_figure(const ProofView& view, double value_kg, bool plus) {
  return mass_figures(view, {value_kg}, plus).front();
}

double in_unit(const ProofView& view, double value_kg) {
  return view.us ? value_kg / units::kPound_kg : value_kg;
}

double two_digits(double value) {
  if (!std::isfinite(value) || value == 0.0) return value;
  const int last = static_cast<int>(std::floor(std::log10(std::abs(value)))) - 1;
  // Divided by a power of ten that is exact, so that 0.58 stays the nearest number to 0.58.
  const double scale = std::pow(10.0, std::abs(last));
  return last >= 0 ? std::round(value / scale) * scale : std::round(value * scale) / scale;
}

std::vector<std::string> uncertainty_figures(const ProofView& view,
                                             const std::vector<std::optional<double>>& column_kg) {
  std::vector<std::string> texts;
  texts.reserve(column_kg.size());
  for (const std::optional<double>& value : column_kg) {
    if (!value || !std::isfinite(*value)) {
      texts.emplace_back("-");
      continue;
    }
    const double rounded = two_digits(in_unit(view, *value));
    const double finest = 0.5 * std::pow(10.0, -kMostFine);
    const int decimals =
        std::abs(rounded) < finest
            ? 0
            : std::clamp(1 - static_cast<int>(std::floor(std::log10(std::abs(rounded)) + 1e-12)), 0,
                         kMostFine);
    texts.push_back(figure(rounded, decimals, false));
  }
  return texts;
}

const char* mass_unit(const ProofView& view) {
  return view.us ? "lb" : "kg";
}

}  // namespace weighwright::report
