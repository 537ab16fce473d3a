#include "report/answer_json.h"

#include <nlohmann/json.hpp>

#include "report/json_parts.h"

namespace weighwright::report {
namespace {

Json jack_json(const JackView& jack) {
  Json object;
  object["stand"] = jack.stand;
  object["lift_mm"] = jack.lift_mm;
  object["force_N"] = jack.force_N;
  object["free_lift_mm"] = jack.free_lift_mm;
  put(object, "most_lift_mm", jack.most_lift_mm, "nothing else opens, however far it is lifted");
  object["limited_by"] = text_or_null(jack.limited_by);
  object["stand_N"] = jack.stand_N;
  object["open"] = jack.open;
  return object;
}

Json move_json(const MoveView& move) {
  Json object;
  object["stand"] = move.stand;
  object["tag"] = text_or_null(move.tag);
  object["kind"] = move.shim ? "shims" : "screws";
  object["turns"] = move.shim ? Json(nullptr) : Json(move.turns);
  object["shim_mm"] = move.shim ? Json(move.raise_mm) : Json(nullptr);
  object["shims_mm"] = move.shims_mm;
  object["raise_mm"] = move.raise_mm;
  object["jack_first"] = move.jack_first;
  object["load_N"] = move.load_N;
  object["torque_Nm"] = move.torque_Nm;
  if (move.jack_N > 0.0) {
    object["jack_N"] = move.jack_N;
    object["lift_mm"] = move.lift_mm;
    put(object, "most_lift_mm", move.most_lift_mm, "nothing else opens, however far it is lifted");
    object["lift_limited_by"] = text_or_null(move.lift_limited_by);
  }
  object["section_N"] = move.section_N;
  object["grout_mm"] = move.grout_mm ? Json(*move.grout_mm) : Json(nullptr);
  object["instruction"] = move.instruction;
  object["why"] = move.why;
  return object;
}

Json moves_json(const std::vector<MoveView>& moves) {
  Json list = Json::array();
  for (const MoveView& move : moves) list.push_back(move_json(move));
  return list;
}

Json pairs_json(const std::vector<PairView>& pairs) {
  Json list = Json::array();
  for (const PairView& pair : pairs) {
    Json object;
    object["section"] = pair.section;
    put(object, "difference_mV", pair.difference_mV, "not read");
    put(object, "tolerance_mV", pair.tolerance_mV, "no tolerance applies");
    put(object, "difference_N", pair.difference_N, "not read");
    put(object, "share_of_mean", pair.share_of_mean, "the pair carries nothing");
    object["within"] = pair.within;
    list.push_back(object);
  }
  return list;
}

Json judgements_json(const std::vector<JudgementView>& judgements) {
  Json list = Json::array();
  for (const JudgementView& judgement : judgements) {
    Json object{
        {"code", judgement.code}, {"verdict", judgement.verdict}, {"sentence", judgement.sentence}};
    if (judgement.residual_N) {
      put(object, "residual_N", judgement.residual_N, "cannot be judged");
      put(object, "standard_uncertainty_N", judgement.u_residual_N, "cannot be judged");
      put(object, "hidden_N", judgement.hidden_N, "cannot be judged");
    }
    list.push_back(object);
  }
  return list;
}

Json cannot_fix_json(const std::vector<CannotFixView>& items) {
  Json list = Json::array();
  for (const CannotFixView& item : items) {
    list.push_back({{"code", item.code},
                    {"section", int_or_null(item.section)},
                    {"stand", text_or_null(item.stand)},
                    {"joint", int_or_null(item.joint)},
                    {"reason", item.reason},
                    {"evidence", item.evidence},
                    {"look", item.look}});
  }
  return list;
}

Json stands_json(const std::vector<StandView>& stands) {
  Json list = Json::array();
  for (const StandView& stand : stands) {
    Json object;
    object["stand"] = stand.stand;
    object["tag"] = text_or_null(stand.tag);
    put(object, "signal_mV", stand.signal_mV, "the cell gives no millivolts");
    if (stand.net_mV) put(object, "net_mV", stand.net_mV, "the cell gives no millivolts");
    put(object, "load_N", stand.load_N, "not known");
    put(object, "standard_uncertainty_N", stand.u_load_N, "not known");
    put(object, "expected_mV", stand.expected_mV, "the cell gives no millivolts");
    put(object, "expected_N", stand.expected_N, "not known");
    object["chance_free"] = stand.chance_free;
    list.push_back(object);
  }
  return list;
}

Json then_json(const std::vector<ThenView>& then) {
  Json list = Json::array();
  for (const ThenView& stand : then) {
    Json object;
    object["stand"] = stand.stand;
    put(object, "signal_mV", stand.signal_mV, "the cell gives no millivolts");
    put(object, "standard_uncertainty_mV", stand.standard_uncertainty_mV, "not known");
    put(object, "load_N", stand.load_N, "not known");
    list.push_back(object);
  }
  return list;
}

Json asks_json(const std::vector<AskView>& asks) {
  Json list = Json::array();
  for (const AskView& ask : asks) {
    list.push_back({{"support", text_or_null(ask.support)},
                    {"what", ask.what},
                    {"sentence", ask.sentence},
                    {"why", ask.why}});
  }
  return list;
}

}  // namespace

std::string print_json(const PredictView& view) {
  Json object;
  object["deck"] = view.deck_name;
  object["stands"] = Json::array();
  for (const PredictedStand& stand : view.stands) {
    Json row{{"stand", stand.stand}, {"load_N", stand.load_N}};
    put(row, "signal_mV", stand.signal_mV, "the cell gives no millivolts");
    object["stands"].push_back(row);
  }
  object["sections"] = Json::array();
  for (std::size_t i = 0; i < view.section_N.size(); ++i) {
    object["sections"].push_back({{"section", i + 1}, {"load_N", view.section_N[i]}});
  }
  object["lifted"] = Json::array();
  object["lifted_gaps"] = Json::array();
  for (const LiftedStand& stand : view.lifted) {
    object["lifted"].push_back(stand.stand);
    object["lifted_gaps"].push_back({{"stand", stand.stand}, {"gap_mm", stand.gap_mm}});
  }
  object["bearings_open"] = Json::array();
  object["open_bearings"] = Json::array();
  for (const OpenBearing& open : view.open_bearings) {
    object["bearings_open"].push_back(open.bearing);
    object["open_bearings"].push_back({{"joint", open.joint},
                                       {"side", open.side},
                                       {"bearing", open.bearing},
                                       {"gap_mm", open.gap_mm}});
  }
  object["influence_N_per_m"] = view.influence_N_per_m;
  if (view.jack) object["jack"] = jack_json(*view.jack);
  object["assumed"] = assumed_json(view.assumed);
  return print(object);
}

std::string print_json(const ShareView& view) {
  Json object;
  object["deck"] = view.deck_name;
  object["outcome"] = view.outcome;
  object["in_tolerance"] = view.in_tolerance;
  object["headline"] = view.headline;
  object["because"] = text_or_null(view.because);
  object["pairs"] = pairs_json(view.pairs);
  object["judgements"] = judgements_json(view.judgements);
  object["cannot_fix"] = cannot_fix_json(view.cannot_fix);
  object["moves"] = moves_json(view.moves);
  object["then"] = then_json(view.then);
  put(object, "probability_done", view.probability_done, "no moves are given");
  object["ask"] = asks_json(view.asks);
  if (!view.gentler.empty()) {
    Json gentler{{"moves", moves_json(view.gentler)}};
    put(gentler, "probability_done", view.probability_gentler, "not computed");
    object["gentler"] = gentler;
  }
  object["stands"] = stands_json(view.stands);
  object["cautions"] = view.cautions;
  object["assumed"] = assumed_json(view.assumed);
  return print(object);
}

std::string print_json(const CheckView& view) {
  return print({{"deck", view.deck_name},
                {"faults", Json::array()},
                {"notes", view.notes},
                {"assumed", assumed_json(view.assumed)}});
}

std::string print_json(const LevelView& view) {
  Json object;
  object["stand"] = view.stand;
  object["screws"] = Json::array();
  for (const LevelScrew& screw : view.screws) {
    object["screws"].push_back({{"corner", screw.corner},
                                {"turns", screw.turns},
                                {"exact_turns", screw.exact_turns},
                                {"raise_mm", screw.raise_mm},
                                {"instruction", screw.instruction}});
  }
  object["left_along_mm_per_m"] = view.left_along_mm_per_m;
  object["left_across_mm_per_m"] = view.left_across_mm_per_m;
  object["rock_mm"] = view.rock_mm;
  return print(object);
}

std::string print_json(const units::Diagnostics& faults) {
  Json list = Json::array();
  for (const units::Diagnostic& fault : faults) {
    list.push_back({{"file", fault.file},
                    {"line", fault.line},
                    {"column", fault.column},
                    {"what", fault.what},
                    {"expected", fault.expected}});
  }
  return print({{"faults", list}});
}

}  // namespace weighwright::report
