#include <nlohmann/json.hpp>

#include "report/diagnose_view.h"
#include "report/json_parts.h"

namespace weighwright::report {
namespace {

Json spoke_json(const SpokeView& spoke) {
  Json object{{"what", spoke.what}};
  put(object, "measured_kg", spoke.measured_kg, "no figure");
  put(object, "expected_kg", spoke.expected_kg, "no figure");
  put(object, "if_sound_kg", spoke.if_sound_kg, "no figure");
  put(object, "log_likelihood_ratio", spoke.speaks, "not finite");
  object["file"] = text_or_null(spoke.file);
  object["line"] = spoke.line > 0 ? Json(spoke.line) : Json(nullptr);
  object["sentence"] = spoke.sentence;
  return object;
}

Json cause_json(const FaultView& cause) {
  Json object{{"code", cause.code},
              {"where", text_or_null(cause.where)},
              {"probability", cause.probability},
              {"nothing_wrong", cause.innocent},
              {"mends_by_sharing", cause.mends_by_sharing},
              {"alike", cause.alike}};
  put(object, "size", cause.size, "what was measured does not tell it");
  put(object, "standard_uncertainty_size", cause.u_size, "what was measured does not tell it");
  object["size_unit"] = text_or_null(cause.size_unit);
  object["name"] = cause.name;
  object["sentence"] = cause.sentence;
  object["remedy"] = text_or_null(cause.remedy);
  object["evidence"] = Json::array();
  for (const SpokeView& spoke : cause.evidence) object["evidence"].push_back(spoke_json(spoke));
  return object;
}

Json next_json(const NextView& next) {
  Json object{{"code", next.code}, {"where", text_or_null(next.where)}};
  put(object, "load_kg", next.load_kg, "no load is put down");
  object["first"] = {{"code", next.first}, {"where", text_or_null(next.first_where)}};
  object["second"] = {{"code", next.second}, {"where", text_or_null(next.second_where)}};
  const std::string suffix = next.unit.empty() ? "_probability_yes" : "_" + next.unit;
  put(object, "if_first" + suffix, next.if_first, "not finite");
  put(object, "if_second" + suffix, next.if_second, "not finite");
  put(object, "separation", next.separation, "not finite");
  object["gain_nat"] = next.gain_nat;
  object["minutes"] = next.minutes;
  object["instruction"] = next.instruction;
  object["shows"] = next.shows;
  object["cautions"] = next.cautions;
  return object;
}

}  // namespace

std::string print_json(const DiagnoseView& view) {
  Json object;
  object["deck"] = view.deck_name;
  object["outcome"] = view.code;
  object["fine"] = view.fine;
  object["headline"] = view.headline;
  object["verdict"] = view.verdict;
  object["hold"] = view.hold;
  object["hold_reason"] = text_or_null(view.hold_reason);
  object["do_not_adjust"] = view.do_not_adjust;
  object["probability_of_fault"] = view.probability_of_fault;
  object["explained"] = view.explained;
  object["causes"] = Json::array();
  for (const FaultView& cause : view.causes) object["causes"].push_back(cause_json(cause));
  object["next"] = Json::array();
  for (const NextView& next : view.next) object["next"].push_back(next_json(next));
  object["do_not_touch"] = Json::array();
  for (const DoNotTouchView& one : view.do_not_touch) {
    object["do_not_touch"].push_back(
        {{"what", one.what}, {"because", one.because}, {"sentence", one.sentence}});
  }
  object["notes"] = view.notes;
  object["assumed"] = assumed_json(view.assumed);
  return print(object);
}

}  // namespace weighwright::report
