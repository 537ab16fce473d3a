#include "report/exchange/dcc_results.h"

#include <fmt/format.h>

#include <cmath>
#include <cstddef>
#include <utility>

#include "report/exchange/dcc_list.h"
#include "report/exchange/dcc_text.h"

namespace weighwright::report {
namespace {

struct DccTable {
  std::string name;
  std::vector<DccColumn> columns;
};

/// Lines that fit into one table: a test's, alike in what they state.
bool fit_together(const ProofLineView& a, const ProofLineView& b) {
  return a.check == b.check && a.run == b.run && a.clause == b.clause &&
         a.limit_kg.has_value() == b.limit_kg.has_value() &&
         a.U_kg.has_value() == b.U_kg.has_value() && a.k.has_value() == b.k.has_value() &&
         (a.verdict == "not_judged") == (b.verdict == "not_judged");
}

std::string conformity_word(const ProofLineView& line) {
  if (line.sure == "conditional_pass") return "conditionalPass";
  if (line.sure == "conditional_fail") return "conditionalFail";
  return line.verdict == "pass" ? "pass" : "fail";
}

std::string label_of(const ProofLineView& line) {
  if (line.material.empty()) return line.where;
  return line.where.empty() ? line.material : line.where + " " + line.material;
}

void add_line(DccTable& table, const ProofLineView& line) {
  std::vector<DccColumn>& columns = table.columns;
  columns[0].values_kg.push_back(line.load_kg);
  columns[0].labels.push_back(label_of(line));
  columns[1].values_kg.push_back(line.indication_kg);
  columns[2].values_kg.push_back(line.error_kg);
  if (line.U_kg) columns[2].expanded_kg.push_back(*line.U_kg);
  if (line.k) columns[2].factors.push_back(*line.k);
  if (line.verdict != "not_judged") columns[2].conformity.push_back(conformity_word(line));
  if (line.limit_kg) columns[3].values_kg.push_back(*line.limit_kg);
}

DccTable begin_table(const ProofView& proof, const ProofLineView& line) {
  DccTable table;
  table.name = line.run > 1 ? fmt::format("{}, run {}", line.name, line.run) : line.name;
  table.columns.resize(line.limit_kg ? 4 : 3);
  const std::pair<const char*, const char*> names[] = {{"load", "nawi_load"},
                                                       {"indication", "nawi_indication"},
                                                       {"error of indication", "nawi_error"},
                                                       {"limit of error", "nawi_limit"}};
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    table.columns[i].name = names[i].first;
    table.columns[i].ref_type = names[i].second;
    table.columns[i].probability = proof.coverage;
  }
  table.columns[2].norm = line.clause;
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
      add_plain(condition, "dcc:status", status);
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
                {{"relative humidity", times(around.humidity_percent, kPercent)}}, "\\one",
                language);
  add_condition(list, "air pressure", status,
                {{"air pressure", times(around.pressure_hPa, kHecto)}}, "\\pascal", language);
  if (list.first_child().empty()) result.remove_child(list);
}

void add_equipment(pugi::xml_node list, const StandardView& standard, const std::string& language) {
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
  add_real(quantity, standard.conventional_kg.value_or(standard.nominal_kg), "\\kilogram");
}

/// Standards that were refused served for nothing and are left out.
void add_standards(pugi::xml_node result, const ProofView& proof, const std::string& language) {
  pugi::xml_node list = result.append_child("dcc:measuringEquipments");
  for (const StandardView& standard : proof.standards) {
    if (standard.refused.empty()) add_equipment(list, standard, language);
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
    add_list(result.append_child("dcc:data"), range.name, {load, value, limit}, language);
  }
}

void add_phase(pugi::xml_node list, const DocumentView& view, const ProofView& proof, bool found) {
  const std::string& language = view.language;
  pugi::xml_node result = list.append_child("dcc:measurementResult");
  result.append_attribute("refType").set_value(found ? "nawi_asFound" : "nawi_asLeft");
  add_text(result, "dcc:name", found ? "Results as found" : "Results as left", language);
  add_method(result, view, proof);
  add_standards(result, proof, language);
  add_conditions(result, view.environment, found ? "beforeAdjustment" : "afterAdjustment",
                 language);
  pugi::xml_node results = result.append_child("dcc:results");
  for (const DccTable& table : tables_of(proof)) {
    pugi::xml_node one = results.append_child("dcc:result");
    add_text(one, "dcc:name", table.name, language);
    add_list(one.append_child("dcc:data"), table.name, table.columns, language);
  }
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
