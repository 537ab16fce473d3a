#include <fmt/format.h>

#include <cmath>

#include "report/exchange/exchange.h"
#include "units/quantity.h"

namespace weighwright::report {
namespace {

/// RFC 4180: quoted where it holds a comma, a quote or a line break.
std::string cell(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

/// Empty where there is no figure; else what reads back to the same number.
std::string figure(const std::optional<double>& value) {
  return value && std::isfinite(*value) ? units::print_exact(*value) : "";
}

std::string at_of(const ProofLineView& line) {
  if (line.material.empty()) return line.where;
  return line.where.empty() ? line.material : line.where + " " + line.material;
}

}  // namespace

std::string print_results_csv(const ProofView& view) {
  std::string text =
      "check,run,at,load_kg,indication_kg,error_kg,limit_kg,expanded_uncertainty_kg,"
      "coverage_factor,verdict,clause\n";
  for (const ProofLineView& line : view.lines) {
    text += fmt::format("{},{},{},{},{},{},{},{},{},{},{}\n", cell(line.check), line.run,
                        cell(at_of(line)), figure(line.load_kg), figure(line.indication_kg),
                        figure(line.error_kg), figure(line.limit_kg), figure(line.U_kg),
                        figure(line.k), cell(line.verdict), cell(line.clause));
  }
  return text;
}

}  // namespace weighwright::report
