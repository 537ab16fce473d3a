#include <nlohmann/json.hpp>

#include "report/answer_json.h"
#include "report/json_parts.h"

namespace weighwright::report {
namespace {

constexpr const char* kNoBudget = "digital cells: no millivolts reach the indicator";
constexpr const char* kNoCable = "the deck file says no area of that cable";
constexpr const char* kOverLimit = "over the meter's limit: no path";

Json ranges_json(const std::vector<RangeSignalView>& ranges) {
  Json list = Json::array();
  for (const RangeSignalView& range : ranges) {
    list.push_back({{"capacity_kg", range.capacity_kg},
                    {"interval_kg", range.interval_kg},
                    {"signal_V_per_interval", range.interval_V}});
  }
  return list;
}

Json cells_json(const std::vector<CellSignalView>& cells) {
  Json list = Json::array();
  for (const CellSignalView& cell : cells) {
    list.push_back({{"stand", cell.stand},
                    {"force_N", cell.force_N},
                    {"supply_V", cell.supply_V},
                    {"signal_V", cell.signal_V},
                    {"max_V", cell.max_V},
                    {"share_of_capacity", cell.share},
                    {"max_share_of_capacity", cell.max_share},
                    {"weight", cell.weight}});
  }
  return list;
}

/// The four figures that every answer has come first, null where cells are digital.
void put_budget(Json& object, const SignalView& view) {
  const bool analog = view.budget.has_value();
  const BudgetView budget = view.budget.value_or(BudgetView{});
  const auto figure = [&](const char* key, double value) {
    put(object, key, analog ? std::optional(value) : std::nullopt, kNoBudget);
  };
  figure("output_V", budget.output_V);
  figure("supply_A", budget.supply_A);
  figure("box_V", budget.box_V);
  figure("signal_V_per_interval", analog ? budget.ranges.front().interval_V : 0.0);
  object["why_none"] = text_or_null(view.why_none);
  if (!analog) return;
  object["supply_V"] = budget.supply_V;
  object["supply_ohm"] = budget.supply_ohm;
  object["sensed"] = budget.sensed;
  object["dead_load_V"] = budget.dead_load_V;
  object["max_V"] = budget.max_V;
  object["dead_load_V_per_V"] = budget.dead_load_V_per_V;
  object["max_V_per_V"] = budget.max_V_per_V;
  put(object, "least_signal_V_per_interval", budget.least_interval_V,
      "the deck file does not state it (indicator.min_signal)");
  object["ranges"] = ranges_json(budget.ranges);
  object["cable_loss"] = {{"home", budget.home_loss}, {"cell", budget.cell_loss}};
  Json metre;
  put(metre, "home", budget.per_home_metre, kNoCable);
  put(metre, "cell", budget.per_cell_metre, kNoCable);
  put(metre, "corner", budget.per_corner_metre, kNoCable);
  object["per_metre"] = metre;
  put(object, "per_kelvin", budget.per_kelvin, "no cable has an area");
  object["cells"] = cells_json(budget.cells);
}

/// A number, a class as text, or null.
Json side(const std::optional<double>& value, const std::string& text) {
  return value ? Json(*value) : text_or_null(text);
}

Json row_json(const InequalityView& row) {
  Json object{{"code", row.code},
              {"clause", row.clause},
              {"what", row.what},
              {"left_name", row.left_name},
              {"left", side(row.left, row.left_text)},
              {"relation", row.relation},
              {"right_name", row.right_name},
              {"right", side(row.right, row.right_text)},
              {"unit", text_or_null(row.unit)}};
  object["holds"] = row.verdict == "not_judged" ? Json(nullptr) : Json(row.verdict == "holds");
  if (!row.missing.empty()) object["holds_reason"] = "the deck file does not state what it takes";
  object["missing"] = row.missing;
  object["margin"] = row.margin ? Json(*row.margin) : Json(nullptr);
  object["source_unverified"] = row.source_unverified;
  object["sentence"] = row.sentence;
  return object;
}

Json evidence_json(const std::vector<EvidenceView>& evidence) {
  Json list = Json::array();
  for (const EvidenceView& item : evidence) {
    Json object{{"quantity", item.quantity}, {"unit", item.unit}};
    put(object, "measured", item.measured, kOverLimit);
    put(object, "if_sound", item.if_sound, kOverLimit);
    put(object, "tolerance", item.tolerance, "not finite");
    put(object, "if_cause", item.if_cause, kOverLimit);
    put(object, "speaks", item.speaks, "not finite");
    list.push_back(object);
  }
  return list;
}

Json cause_json(const CauseView& cause) {
  Json object{{"stand", cause.stand},
              {"code", cause.code},
              {"detail", text_or_null(cause.detail)},
              {"cell", text_or_null(cause.cell)},
              {"probability", cause.probability},
              {"sentence", cause.sentence},
              {"evidence", evidence_json(cause.evidence)}};
  Json fitted = Json::object();
  for (const auto& [name, value] : cause.fitted) put(fitted, name, value, "not finite");
  object["fitted"] = fitted;
  return object;
}

Json next_json(const CircuitView& circuit) {
  if (!circuit.next) return nullptr;
  Json object{{"quantity", circuit.next->quantity},
              {"first", circuit.next->first},
              {"second", circuit.next->second}};
  put(object, "if_first", circuit.next->if_first, kOverLimit);
  put(object, "if_second", circuit.next->if_second, kOverLimit);
  object["sentence"] = circuit.next_sentence;
  return object;
}

}  // namespace

std::string print_json(const SignalView& view) {
  Json object;
  object["deck"] = view.deck_name;
  object["fine"] = view.fine;
  object["verdict"] = view.headline;
  put_budget(object, view);
  object["compatibility"] = Json::array();
  for (const InequalityView& row : view.inequalities)
    object["compatibility"].push_back(row_json(row));
  object["remarks"] = view.remarks;
  object["circuits"] = Json::array();
  object["causes"] = Json::array();
  for (const CircuitView& circuit : view.circuits) {
    object["circuits"].push_back({{"stand", circuit.stand},
                                  {"verdict", circuit.verdict},
                                  {"sentence", circuit.headline},
                                  {"next", next_json(circuit)},
                                  {"warnings", circuit.warnings}});
    for (const CauseView& cause : circuit.causes) object["causes"].push_back(cause_json(cause));
  }
  object["cautions"] = view.cautions;
  object["assumed"] = assumed_json(view.assumed);
  return print(object);
}

}  // namespace weighwright::report
