#include <fmt/format.h>

#include <cmath>

#include "report/drawable.h"
#include "report/exchange/exchange.h"
#include "units/quantity.h"

namespace weighwright::report {
namespace {

/// RFC 4180: quoted where it holds a comma, a quote or a line break.
std::string cell(const std::string& given) {
  const std::string text = drawable(given);
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

std::string line_row(const ProofLineView& line) {
  return fmt::format("{},{},{},{},{},{},{},{},{},{},{},error\n", cell(line.check), line.run,
                     cell(at_of(line)), figure(line.load_kg), figure(line.indication_kg),
                     figure(line.error_kg), figure(line.limit_kg), figure(line.U_kg),
                     figure(line.k), cell(line.verdict), cell(line.clause));
}

std::string range_row(const ProofRangeView& range) {
  const std::string at = range.where.empty() ? range.name : range.name + ", " + range.where;
  return fmt::format("{},,{},{},,{},{},,,{},{},range\n", cell(range.check), cell(at),
                     figure(range.load_kg), figure(range.value_kg), figure(range.limit_kg),
                     cell(range.verdict), cell(range.clause));
}

std::string outcome_row(const ProofView& view) {
  return fmt::format("outcome,,{},,,,,,,{},{},outcome\n", cell(view.phase), cell(view.outcome),
                     cell(view.rulebook));
}

}  // namespace

std::string print_results_csv(const ProofView& view) {
  std::string text =
      "check,run,at,load_kg,indication_kg,error_kg,limit_kg,expanded_uncertainty_kg,"
      "coverage_factor,verdict,clause,kind\n";
  for (const ProofLineView& line : view.lines) text += line_row(line);
  for (const ProofRangeView& range : view.ranges) text += range_row(range);
  return text + outcome_row(view);
}

}  // namespace weighwright::report
