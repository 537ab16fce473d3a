#include <nlohmann/json.hpp>

#include "report/json_parts.h"
#include "report/test_plan_view.h"

namespace weighwright::report {
namespace {

constexpr const char* kNotANumber = "not a finite number";

Json patches_json(const std::vector<PatchView>& patches) {
  Json list = Json::array();
  for (const PatchView& patch : patches) {
    list.push_back({{"x_m", patch.x_m},
                    {"y_m", patch.y_m},
                    {"along_m", patch.along_m},
                    {"across_m", patch.across_m}});
  }
  return list;
}

Json placement_json(const PlacementView& placement) {
  Json object = {{"number", placement.number}, {"check", placement.check}};
  object["name"] = placement.name;
  object["run"] = placement.run;
  object["range"] = placement.range > 0 ? Json(placement.range) : Json(nullptr);
  object["at"] = text_or_null(placement.at);
  object["where"] = text_or_null(placement.where);
  object["heading"] = text_or_null(placement.heading);
  object["weights"] = text_or_null(placement.weights);
  object["materials"] = text_or_null(placement.materials);
  put(object, "weights_kg", placement.weights_kg, kNotANumber);
  put(object, "load_kg", placement.load_kg, kNotANumber);
  put(object, "limit_kg", placement.limit_kg, "the rulebook has no limit for this placement");
  object["clause"] = text_or_null(placement.clause);
  object["required"] = placement.required;
  object["read_zero_before"] = placement.read_zero_before;
  object["read_zero_after"] = placement.read_zero_after;
  put(object, "added_kg", placement.added_kg, "nothing is added here");
  object["handling"] = text_or_null(placement.handling);
  put(object, "minutes", placement.minutes, kNotANumber);
  object["sentence"] = placement.sentence;
  object["because"] = text_or_null(placement.because);
  object["patches"] = patches_json(placement.patches);
  return object;
}

Json findings_json(const std::vector<PlanFindingView>& findings) {
  Json list = Json::array();
  for (const PlanFindingView& finding : findings) {
    list.push_back({{"code", finding.code},
                    {"placement", finding.placement > 0 ? Json(finding.placement) : Json(nullptr)},
                    {"blocks", finding.blocks},
                    {"sentence", finding.sentence},
                    {"clause", text_or_null(finding.clause)}});
  }
  return list;
}

/// What a program needs to draw the placements on.
Json deck_json(const DrawnDeck& deck) {
  Json object = {{"length_m", deck.length_m}, {"width_m", deck.width_m}};
  object["modules"] = Json::array();
  for (const DrawnModule& module : deck.modules) {
    object["modules"].push_back({{"mark", module.mark},
                                 {"start_m", module.start_m},
                                 {"end_m", module.end_m},
                                 {"width_m", module.width_m}});
  }
  object["joints"] = Json::array();
  for (const DrawnJoint& joint : deck.joints) {
    object["joints"].push_back({{"at_m", joint.at_m}, {"kind", joint.kind}});
  }
  object["stands"] = Json::array();
  for (const DrawnStand& stand : deck.stands) {
    object["stands"].push_back({{"stand", stand.stand},
                                {"section", stand.section},
                                {"x_m", stand.x_m},
                                {"y_m", stand.y_m}});
  }
  return object;
}

}  // namespace

std::string print_json(const TestPlanView& view) {
  Json object;
  object["deck"] = view.deck_name;
  object["possible"] = view.possible;
  object["headline"] = view.headline;
  object["rulebook"] = view.rulebook;
  object["accuracy_class"] = view.accuracy_class;
  object["occasion"] = view.occasion;
  object["occasion_says"] = view.occasion_says;
  put(object, "minutes", view.minutes, kNotANumber);
  put(object, "least_minutes", view.least_minutes, "no bound was found");
  object["standards"] = text_or_null(view.standards);
  object["placements"] = Json::array();
  for (const PlacementView& placement : view.placements)
    object["placements"].push_back(placement_json(placement));
  object["findings"] = findings_json(view.findings);
  object["set_up"] = view.set_up;
  object["cautions"] = view.cautions;
  object["notes"] = view.notes;
  object["table"] = text_or_null(view.table);
  object["plan"] = deck_json(view.plan);
  object["assumed"] = assumed_json(view.assumed);
  return print(object);
}

}  // namespace weighwright::report
