#include <nlohmann/json.hpp>

#include "report/answer_json.h"
#include "report/json_parts.h"

namespace weighwright::report {
namespace {

Json theory_json(const SpanView& view) {
  if (!view.theory) return nullptr;
  const SpanTheoryView& theory = *view.theory;
  return {{"dead_load_mV_per_V", theory.dead_mV_per_V},
          {"span_at_max_mV_per_V", theory.span_mV_per_V},
          {"at_max_mV_per_V", theory.full_mV_per_V},
          {"per_kg_uV_per_V", theory.uV_per_V_per_kg},
          {"excitation_V", theory.excitation_V},
          {"gravity_over_standard", theory.gravity_ratio}};
}

Json points_json(const std::vector<SpanPointView>& points) {
  Json list = Json::array();
  for (const SpanPointView& point : points) {
    Json object;
    object["load_kg"] = point.load_kg;
    object["load_standard_uncertainty_kg"] = point.u_load_kg;
    object["indication_kg"] = point.indicated_kg;
    object["error_kg"] = point.error_kg;
    object["deviation_kg"] = point.deviation_kg;
    object["then_indication_kg"] = point.then_kg;
    object["then_error_kg"] = point.then_error_kg;
    object["then_standard_uncertainty_kg"] = point.u_then_error_kg;
    object["material"] = text_or_null(point.material);
    object["fixes_material"] = point.fixes_material;
    list.push_back(object);
  }
  return list;
}

Json findings_json(const std::vector<SpanFindingView>& findings) {
  Json list = Json::array();
  for (const SpanFindingView& finding : findings) {
    list.push_back({{"code", finding.code},
                    {"blocks", finding.blocks},
                    {"file", text_or_null(finding.file)},
                    {"line", finding.line > 0 ? Json(finding.line) : Json(nullptr)},
                    {"reason", finding.sentence},
                    {"look", text_or_null(finding.look)}});
  }
  return list;
}

}  // namespace

std::string print_json(const SpanView& view) {
  Json object;
  object["deck"] = view.deck_name;
  object["done"] = view.done;
  object["outcome"] = view.code;
  object["verdict"] = view.headline + " " + view.verdict;
  object["open"] = view.open;
  object["theory"] = theory_json(view);
  if (!view.theory) object["theory_reason"] = view.no_theory;
  if (view.has_results) {
    object["slope"] = view.slope;
    object["slope_standard_uncertainty"] = view.u_slope;
    object["correction"] = view.code == "set" ? Json(view.correction) : Json(nullptr);
    object["set"] = view.code == "set" ? Json{{"load_kg", view.set_at_kg},
                                              {"shows_now_kg", view.shows_now_kg},
                                              {"set_to_kg", view.set_to_kg}}
                                       : Json(nullptr);
    object["points"] = points_json(view.points);
    Json later = Json::array();
    for (const SpanLaterView& one : view.later) {
      later.push_back({{"load_kg", one.load_kg},
                       {"now_kg", one.now_kg},
                       {"then_kg", one.then_kg},
                       {"standard_uncertainty_kg", one.u_kg}});
    }
    object["later"] = later;
    Json linearity = Json::array();
    for (const auto& [load, shows] : view.linearity_kg) {
      linearity.push_back({{"load_kg", load}, {"shows_kg", shows}});
    }
    object["linearity_points"] = linearity;
  }
  object["cannot_fix"] = findings_json(view.findings);
  object["steps"] = view.steps;
  object["assumed"] = assumed_json(view.assumed);
  return print(object);
}

}  // namespace weighwright::report
