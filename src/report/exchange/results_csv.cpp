#include <fmt/format.h>

#include <cmath>
#include <cstddef>

#include "report/drawable.h"
#include "report/exchange/exchange.h"
#include "units/quantity.h"

namespace weighwright::report {
namespace {

/// RFC 4180: quoted where it holds a comma, a quote or a line break.
std::string cell(const std::string& given) {
  std::string text = drawable(given);
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

/// In the unit of the data plate. A conversion's own rounding, beyond a millionth, is left out.
std::string mass(const ProofView& view, const std::optional<double>& value_kg) {
  if (!value_kg || !view.us) return figure(value_kg);
  constexpr double kMillion = 1e6;
  return figure(std::round(in_unit(view, *value_kg) * kMillion) / kMillion);
}

/// Two significant digits (JCGM 100:2008, 7.2.6).
std::string uncertainty(const ProofView& view, const std::optional<double>& value_kg) {
  return value_kg ? figure(two_digits(in_unit(view, *value_kg))) : "";
}

std::string at_of(const ProofLineView& line) {
  if (line.material.empty()) return line.where;
  return line.where.empty() ? line.material : line.where + " " + line.material;
}

std::string line_row(const ProofView& view, const ProofLineView& line) {
  return fmt::format(
      "{},{},{},{},{},{},{},{},{},{},{},error,{},{},{},{},\n", cell(line.check), line.run,
      cell(at_of(line)), mass(view, line.load_kg), mass(view, line.indication_kg),
      mass(view, line.error_kg), mass(view, line.limit_kg), uncertainty(view, line.U_kg),
      figure(line.k), cell(line.verdict), cell(line.clause), mass(view, line.zero_kg),
      mass(view, line.added_kg), mass(view, line.start_kg), mass(view, line.division_kg));
}

std::string at_of(const ProofRangeView& range) {
  return range.where.empty() ? range.name : range.name + ", " + range.where;
}

std::string range_row(const ProofView& view, const ProofRangeView& range) {
  return fmt::format("{},,{},{},,{},{},,,{},{},range,,,,,{}\n", cell(range.check),
                     cell(at_of(range)), mass(view, range.load_kg), mass(view, range.value_kg),
                     mass(view, range.limit_kg), cell(range.verdict), cell(range.clause),
                     mass(view, range.s_kg));
}

/// One of the weighings that a range compares.
std::string repeat_row(const ProofView& view,
                       const ProofRangeView& range,
                       const ProofRepeatView& one,
                       std::size_t number) {
  return fmt::format("{},{},{},{},{},,,,,,,repeat,{},{},,,\n", cell(range.check), number,
                     cell(at_of(range)), mass(view, range.load_kg), mass(view, one.indication_kg),
                     mass(view, one.zero_kg), mass(view, one.added_kg));
}

std::string outcome_row(const ProofView& view) {
  return fmt::format("outcome,,{},,,,,,,{},{},outcome,,,,,\n", cell(view.phase), cell(view.outcome),
                     cell(view.rulebook));
}

}  // namespace

std::string print_results_csv(const ProofView& view) {
  std::string text = fmt::format(
      "check,run,at,load_{0},indication_{0},error_{0},limit_{0},expanded_uncertainty_{0},"
      "coverage_factor,verdict,clause,kind,zero_{0},added_{0},start_{0},division_{0},s_{0}\n",
      mass_unit(view));
  for (const ProofLineView& line : view.lines) text += line_row(view, line);
  for (const ProofRangeView& range : view.ranges) {
    text += range_row(view, range);
    for (std::size_t i = 0; i < range.repeats.size(); ++i)
      text += repeat_row(view, range, range.repeats[i], i + 1);
  }
  return text + outcome_row(view);
}

}  // namespace weighwright::report
