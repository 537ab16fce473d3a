#include "report/exchange/dcc_results.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <string_view>
#include <utility>

#include "report/exchange/dcc_list.h"
#include "report/exchange/dcc_text.h"

namespace weighwright::report {
namespace {

struct DccTable {
  std::string name;
  std::vector<DccColumn> columns;
  std::size_t error = 0;  // index of the column of errors
};

/// What a line states, in the order in which the error is computed from it.
struct LineFigure {
  const char* name;
  const char* ref_type;
  std::optional<double> (*of)(const ProofLineView&);
};

using Figure = std::optional<double>;
using LineView = ProofLineView;

constexpr std::array kFigures = {
    LineFigure{"load", "nawi_load", [](const LineView& line) { return Figure(line.load_kg); }},
    LineFigure{"indication", "nawi_indication",
               [](const LineView& line) { return Figure(line.indication_kg); }},
    LineFigure{"small weights added", "nawi_added",
               [](const LineView& line) { return line.added_kg; }},
    LineFigure{
        "division d", "nawi_division",
        [](const LineView& line) { return line.added_kg ? Figure(line.division_kg) : Figure(); }},
    LineFigure{"indication of the empty deck, E0", "nawi_zero",
               [](const LineView& line) { return line.zero_kg; }},
    LineFigure{"indication before the known load", "nawi_start",
               [](const LineView& line) { return line.start_kg; }},
    LineFigure{"error of indication", "nawi_error",
               [](const LineView& line) { return Figure(line.error_kg); }},
    LineFigure{"limit of error", "nawi_limit", [](const LineView& line) { return line.limit_kg; }}};

constexpr const char* kHowComputed =
    "error = P - E0 - (indication before the known load) - load; P is the indication, or "
    "indication + d/2 - (small weights added) where they are given; what is not listed is none";

/// Lines that fit into one table: a test's, alike in what they state.
bool fit_together(const ProofLineView& a, const ProofLineView& b) {
  const bool alike = std::all_of(kFigures.begin(), kFigures.end(), [&](const LineFigure& figure) {
    return figure.of(a).has_value() == figure.of(b).has_value();
  });
  return alike && a.check == b.check && a.run == b.run && a.clause == b.clause &&
         a.U_kg.has_value() == b.U_kg.has_value() && a.k.has_value() == b.k.has_value() &&
         (a.verdict == "not_judged") == (b.verdict == "not_judged");
}

/// Within the limit and inside the guard band of a binary rule is no pass and no fail: "noPass".
std::string conformity_word(const ProofLineView& line) {
  if (line.sure == "conditional_pass") return "conditionalPass";
  if (line.sure == "conditional_fail") return "conditionalFail";
  if (line.verdict == "not_accepted") return "noPass";
  return line.verdict == "pass" ? "pass" : "fail";
}

std::string label_of(const ProofLineView& line) {
  if (line.material.empty()) return line.where;
  return line.where.empty() ? line.material : line.where + " " + line.material;
}

void add_judgement(const ProofLineView& line, DccColumn& error) {
  if (line.U_kg) error.expanded_kg.push_back(*line.U_kg);
  if (line.k) error.factors.push_back(*line.k);
  if (line.verdict != "not_judged") error.conformity.push_back(conformity_word(line));
}

void add_line(DccTable& table, const ProofLineView& line) {
  std::size_t column = 0;
  for (const LineFigure& figure : kFigures) {
    const Figure value = figure.of(line);
    if (!value) continue;
    table.columns[column].values_kg.push_back(*value);
    if (table.error == column) add_judgement(line, table.columns[column]);
    ++column;
  }
  table.columns.front().labels.push_back(label_of(line));
}

DccTable begin_table(const ProofView& proof, const ProofLineView& line) {
  DccTable table;
  table.name = line.run > 1 ? fmt::format("{}, run {}", line.name, line.run) : line.name;
  for (const LineFigure& figure : kFigures) {
    if (!figure.of(line)) continue;
    if (std::string_view(figure.ref_type) == "nawi_error") table.error = table.columns.size();
    table.columns.push_back(
        {.name = figure.name, .ref_type = figure.ref_type, .probability = proof.coverage});
  }
  table.columns[table.error].norm = line.clause;
  return table;
}

std::vector<DccTable> tables_of(const ProofView& proof) {
  std::vector<DccTable> tables;
  const ProofLineView* before = nullptr;
  for (const ProofLineView& line : proof.lines) {
    if (before == nullptr || !fit_together(*before, line))
      tables.push_back(begin_table(proof, line));
    add_line(tables.back(), line);
    before = &line;
  }
  return tables;
}

void add_real(pugi::xml_node parent, double value, const char* unit) {
  pugi::xml_node real = parent.append_child("si:real");
  add_plain(real, "si:value", plain(value));
  add_plain(real, "si:unit", unit);
}

/// @param status  "beforeAdjustment" ...; null: nothing was adjusted
void add_condition(pugi::xml_node list,
                   const char* name,
                   const char* status,
                   const std::vector<std::pair<const char*, std::optional<double>>>& values,
                   const char* unit,
                   const std::string& language) {
  pugi::xml_node condition;
  for (const auto& [which, value] : values) {
    if (!value || !std::isfinite(*value)) continue;
    if (!condition) {
      condition = list.append_child("dcc:influenceCondition");
      add_text(condition, "dcc:name", name, language);
      if (status != nullptr) add_plain(condition, "dcc:status", status);
      condition.append_child("dcc:data");
    }
    pugi::xml_node quantity = condition.child("dcc:data").append_child("dcc:quantity");
    add_text(quantity, "dcc:name", which, language);
    add_real(quantity, *value, unit);
  }
}

std::optional<double> times(const std::optional<double>& value, double factor) {
  return value ? std::optional<double>(*value * factor) : std::nullopt;
}

/// Unit names of the D-SI: \degreecelsius, \one, \pascal (from memory, unverified).
void add_conditions(pugi::xml_node result,
                    const EnvironmentView& around,
                    const char* status,
                    const std::string& language) {
  constexpr double kPercent = 0.01;
  constexpr double kHecto = 100.0;
  pugi::xml_node list = result.append_child("dcc:influenceConditions");
  add_condition(
      list, "temperature", status,
      {{"lowest", around.temperature_low_degC}, {"highest", around.temperature_high_degC}},
      "\\degreecelsius", language);
  add_condition(list, "relative humidity", status,
                {{"lowest", times(around.humidity_low_percent, kPercent)},
                 {"highest", times(around.humidity_high_percent, kPercent)}},
                "\\one", language);
  add_condition(list, "air pressure", status,
                {{"lowest", times(around.pressure_low_hPa, kHecto)},
                 {"highest", times(around.pressure_high_hPa, kHecto)}},
                "\\pascal", language);
  if (list.first_child().empty()) result.remove_child(list);
}

void add_equipment(pugi::xml_node list,
                   const StandardView& standard,
                   const std::string& language,
                   bool pounds) {
  pugi::xml_node one = list.append_child("dcc:measuringEquipment");
  add_text(one, "dcc:name", fmt::format("{} x {}", standard.count, standard.id), language);
  std::string description = standard.weight_class.empty() ? "" : "class " + standard.weight_class;
  if (!standard.traced_to.empty())
    description += (description.empty() ? "" : "; ") + ("traced to " + standard.traced_to);
  if (!description.empty()) add_text(one, "dcc:description", description, language);
  if (!standard.certificate.empty()) {
    pugi::xml_node id = one.append_child("dcc:identifications").append_child("dcc:identification");
    add_plain(id, "dcc:issuer", "other");
    add_plain(id, "dcc:value", standard.certificate);
    add_text(id, "dcc:name", "certificate", language);
  }
  pugi::xml_node quantity = one.append_child("dcc:measuringEquipmentQuantities")
                                .append_child("dcc:measuringEquipmentQuantity");
  add_text(quantity, "dcc:name",
           standard.conventional_kg ? "conventional mass of one" : "nominal mass of one", language);
  add_mass(quantity, standard.conventional_kg.value_or(standard.nominal_kg), pounds);
}

/// Standards that were refused served for nothing and are left out.
void add_standards(pugi::xml_node result, const ProofView& proof, const std::string& language) {
  pugi::xml_node list = result.append_child("dcc:measuringEquipments");
  for (const StandardView& standard : proof.standards) {
    if (standard.refused.empty()) add_equipment(list, standard, language, proof.us);
  }
  if (list.first_child().empty()) result.remove_child(list);
}

void add_method(pugi::xml_node result, const DocumentView& view, const ProofView& proof) {
  pugi::xml_node method = result.append_child("dcc:usedMethods").append_child("dcc:usedMethod");
  add_text(method, "dcc:name", view.method.empty() ? proof.rulebook : view.method, view.language);
  add_text(method, "dcc:description",
           proof.uncertainty.empty() ? proof.occasion_says : proof.uncertainty, view.language);
  add_plain(method, "dcc:norm", proof.rulebook);
}

/// Every weighing that was compared, and their standard deviation.
void add_repeats(pugi::xml_node data,
                 const ProofView& proof,
                 const ProofRangeView& range,
                 const std::string& language) {
  if (range.repeats.empty()) return;
  DccColumn shown{.name = "indication", .ref_type = "nawi_indication"};
  DccColumn added{.name = "small weights added", .ref_type = "nawi_added"};
  DccColumn zero{.name = "indication of the empty deck, E0", .ref_type = "nawi_zero"};
  DccColumn result{.name = "result, before rounding where it is known, less E0",
                   .ref_type = "nawi_result"};
  for (const ProofRepeatView& one : range.repeats) {
    shown.values_kg.push_back(one.indication_kg);
    if (one.added_kg) added.values_kg.push_back(*one.added_kg);
    zero.values_kg.push_back(one.zero_kg);
    result.values_kg.push_back(one.result_kg);
  }
  std::vector<DccColumn> columns = {shown, zero, result};
  if (added.values_kg.size() == range.repeats.size()) columns.push_back(added);
  add_list(data, "weighings compared", columns, language, proof.us);
  if (!range.s_kg) return;
  pugi::xml_node quantity = data.append_child("dcc:quantity");
  quantity.append_attribute("refType").set_value("nawi_standardDeviation");
  add_text(quantity, "dcc:name", "experimental standard deviation s", language);
  add_mass(quantity, *range.s_kg, proof.us);
}

void add_agreement(pugi::xml_node results, const ProofView& proof, const std::string& language) {
  for (const ProofRangeView& range : proof.ranges) {
    pugi::xml_node result = results.append_child("dcc:result");
    const std::string where = range.where.empty() ? "" : ", " + range.where;
    add_text(result, "dcc:name", range.name + where, language);
    DccColumn load{.name = "load", .ref_type = "nawi_load", .values_kg = {range.load_kg}};
    DccColumn value{.name = "value", .ref_type = "nawi_agreement", .values_kg = {range.value_kg}};
    // The schema says no meaning of its "noPass"; one that was not judged has no statement of
    // conformity, which may be absent, and words that say so.
    if (range.verdict == "not_judged") {
      value.declaration = range.why == "told_only"
                              ? "Told only: the limit is for a load that lies there longer."
                              : "Not judged: rounding of the indications decides.";
    } else {
      value.conformity = {range.verdict == "pass" ? "pass" : "fail"};
    }
    value.norm = range.clause;
    DccColumn limit{.name = range.at_least ? "least value" : "greatest value",
                    .ref_type = "nawi_limit",
                    .values_kg = {range.limit_kg}};
    pugi::xml_node data = result.append_child("dcc:data");
    add_list(data, range.name, {load, value, limit}, language, proof.us);
    add_repeats(data, proof, range, language);
  }
}

void add_substitutes(pugi::xml_node results, const ProofView& proof, const std::string& language) {
  if (proof.substitutes.empty()) return;
  DccColumn mass{.name = "mass of the substitute", .ref_type = "nawi_substitute"};
  DccColumn u{.name = "standard uncertainty",
              .ref_type = "nawi_substituteUncertainty",
              .uncertainty = true};
  for (const ProofSubstituteView& one : proof.substitutes) {
    mass.labels.push_back(one.name);
    mass.values_kg.push_back(one.mass_kg);
    u.values_kg.push_back(one.u_kg);
  }
  pugi::xml_node result = results.append_child("dcc:result");
  add_text(result, "dcc:name", "Substitutes for known loads", language);
  add_list(result.append_child("dcc:data"), "Substitutes for known loads", {mass, u}, language,
           proof.us);
}

/// Where nothing was adjusted the results are as found and as left, before and after nothing.
const char* status_of(const DocumentView& view, bool found) {
  if (!view.adjusted) return nullptr;
  return found ? "beforeAdjustment" : "afterAdjustment";
}

const char* phase_name(const DocumentView& view, bool found) {
  if (found) return "Results as found";
  return view.adjusted ? "Results as left" : "Results, as found and as left: nothing was adjusted";
}

void add_phase(pugi::xml_node list, const DocumentView& view, const ProofView& proof, bool found) {
  const std::string& language = view.language;
  pugi::xml_node result = list.append_child("dcc:measurementResult");
  result.append_attribute("refType").set_value(found ? "nawi_asFound" : "nawi_asLeft");
  add_text(result, "dcc:name", phase_name(view, found), language);
  add_method(result, view, proof);
  add_standards(result, proof, language);
  add_conditions(result, view.environment, status_of(view, found), language);
  pugi::xml_node results = result.append_child("dcc:results");
  for (const DccTable& table : tables_of(proof)) {
    pugi::xml_node one = results.append_child("dcc:result");
    add_text(one, "dcc:name", table.name, language);
    add_text(one, "dcc:description", kHowComputed, language);
    add_list(one.append_child("dcc:data"), table.name, table.columns, language, proof.us);
  }
  add_substitutes(results, proof, language);
  add_agreement(results, proof, language);
}

void collect_faults(std::vector<std::string>& faults, const ProofView& proof, const char* phase) {
  if (proof.lines.empty()) faults.push_back(fmt::format("results {}", phase));
  for (const DccTable& table : tables_of(proof)) {
    for (const std::string& fault : faults_of(table.columns))
      faults.push_back(fmt::format("sound figures {}, {}: {}", phase, table.name, fault));
  }
  for (const ProofRangeView& range : proof.ranges) {
    for (const double figure : {range.load_kg, range.value_kg, range.limit_kg}) {
      if (!std::isfinite(figure))
        faults.push_back(
            fmt::format("sound figures {}, {}: a value is not a finite number", phase, range.name));
    }
  }
}

}  // namespace

std::vector<std::string> result_faults(const DocumentView& view) {
  std::vector<std::string> faults;
  if (!view.as_found && !view.as_left) faults.emplace_back("results");
  if (view.as_found) collect_faults(faults, *view.as_found, "as found");
  if (view.as_left) collect_faults(faults, *view.as_left, "as left");
  return faults;
}

void add_results(pugi::xml_node certificate, const DocumentView& view) {
  pugi::xml_node list = certificate.append_child("dcc:measurementResults");
  if (view.as_found) add_phase(list, view, *view.as_found, true);
  if (view.as_left) add_phase(list, view, *view.as_left, false);
}

}  // namespace weighwright::report
