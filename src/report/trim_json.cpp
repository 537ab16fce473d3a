#include <nlohmann/json.hpp>

#include "report/answer_json.h"
#include "report/json_parts.h"

namespace weighwright::report {
namespace {

Json settings_json(const std::vector<TrimSettingView>& trims) {
  Json list = Json::array();
  for (const TrimSettingView& trim : trims) {
    Json object;
    object["stand"] = trim.trim;
    object["tag"] = text_or_null(trim.tag);
    object["gain"] = trim.gain;
    object["standard_uncertainty_gain"] = trim.u_gain;
    object["setting"] = trim.setting;
    put(object, "turns", trim.turns, "not set in turns");
    put(object, "ohm", trim.ohm, "its scale in ohm is not known");
    put(object, "factor", trim.factor, "not a digital factor");
    object["at_end"] = trim.at_end;
    object["instruction"] = trim.instruction;
    list.push_back(object);
  }
  return list;
}

Json spread_json(const SpreadView& spread) {
  return {{"spread_kg", spread.kg},
          {"expected_spread_kg", spread.expected_kg},
          {"upper_95_spread_kg", spread.upper_kg},
          {"probability_within", spread.chance_within}};
}

Json points_json(const std::vector<TrimPointView>& points, bool then) {
  Json list = Json::array();
  for (const TrimPointView& point : points) {
    Json object;
    object["at"] = point.at;
    object["load_kg"] = point.load_kg;
    object["load_known"] = point.load_known;
    object["error_kg"] = then ? point.then_error_kg : point.error_kg;
    object["standard_uncertainty_kg"] = then ? point.u_then_error_kg : point.u_error_kg;
    if (then) {
      object["indication_kg"] = point.then_indication_kg;
    } else {
      object["read"] = point.read_now;
    }
    list.push_back(object);
  }
  return list;
}

Json findings_json(const std::vector<TrimFindingView>& findings) {
  Json list = Json::array();
  for (const TrimFindingView& finding : findings) {
    Json object;
    object["code"] = finding.code;
    object["at"] = finding.at;
    object["blocks"] = finding.blocks;
    object[finding.is_fraction ? "found" : "found_kg"] = finding.found;
    object[finding.is_fraction ? "limit" : "limit_kg"] = finding.limit;
    object["file"] = text_or_null(finding.file);
    object["line"] = finding.line > 0 ? Json(finding.line) : Json(nullptr);
    object["reason"] = finding.sentence;
    object["look"] = text_or_null(finding.look);
    list.push_back(object);
  }
  return list;
}

Json more_json(const std::vector<MorePlacementsView>& more) {
  Json list = Json::array();
  for (const MorePlacementsView& one : more) {
    Json object;
    object["placements"] = one.count;
    put(object, "standard_uncertainty_kg", one.u_trim_kg, "a trim stays undetermined");
    object["at"] = one.places;
    list.push_back(object);
  }
  return list;
}

Json order_json(const TrimView& view) {
  Json list = Json::array();
  for (const TrimStepView& step : view.order) {
    list.push_back(
        {{"kind", step.kind}, {"section", step.section}, {"instruction", step.sentence}});
  }
  return list;
}

Json learn_json(const TrimView& view) {
  if (!view.learn) return nullptr;
  return {{"stand", view.learn_trim}, {"turns", view.learn_turns}, {"instruction", *view.learn}};
}

}  // namespace

std::string print_json(const TrimView& view) {
  Json object;
  object["deck"] = view.deck_name;
  object["within"] = view.done;
  object["outcome"] = view.code;
  object["verdict"] = view.headline + " " + view.verdict;
  object["wanted_kg"] = view.wanted_kg;
  object["reference_load_kg"] = view.reference_load_kg;
  object["trims"] = settings_json(view.trims);
  object["learn"] = learn_json(view);
  Json before = spread_json(view.before);
  before["points"] = points_json(view.points, false);
  object["before"] = before;
  if (view.then) {
    Json then = spread_json(*view.then);
    then["points"] = points_json(view.points, true);
    object["then"] = then;
  } else {
    object["then"] = nullptr;
    object["then_reason"] = "nothing is to be set";
  }
  object["attainable_spread_kg"] = view.attainable_kg;
  object["whole_deck_change"] = view.whole_deck;
  object["cannot_fix"] = findings_json(view.findings);
  object["undetermined"] = view.undetermined;
  object["settle_by"] = text_or_null(view.settle_by);
  object["order"] = order_json(view);
  object["weight_moves"] = {{"all_at_once", view.moves_at_once},
                            {"pairs_first", view.moves_guided}};
  object["more_placements"] = more_json(view.more);
  put(object, "effect_of_one_turn_clockwise", view.per_turn, "not learned from these readings");
  object["assumed"] = assumed_json(view.assumed);
  return print(object);
}

std::string print_json(const PlacementsView& view) {
  Json object;
  object["deck"] = view.deck_name;
  object["possible"] = view.possible;
  object["verdict"] = view.headline;
  object["load_kg"] = view.load_kg;
  object["wanted_standard_uncertainty_kg"] = view.wanted_kg;
  object["placements"] = view.places;
  put(object, "standard_uncertainty_kg", view.u_trim_kg, "a trim stays undetermined");
  object["no_fewer_than"] = view.no_fewer_than;
  object["by_count"] = more_json(view.by_count);
  object["notes"] = view.notes;
  object["assumed"] = assumed_json(view.assumed);
  return print(object);
}

}  // namespace weighwright::report
