#include "diagnose/catalogue.h"

#include <algorithm>
#include <cmath>

#include "record/looks.h"
#include "units/place.h"

namespace weighwright::diagnose {
namespace {

constexpr double kSunkSinceGrout = 0.02;
constexpr double kLevelLost = 0.01;  // prior that a deck that was balanced is not, and nothing else
constexpr double kFalseAlarm = 0.03;  // a look that says yes where this is not what is wrong

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

using enum Adjustment;

std::vector<FaultKind> make_catalogue() {
  const std::vector<Adjustment> all = {screws, shims, trims, span};
  const std::vector<Adjustment> weighing = {trims, span};
  const std::vector<Adjustment> level = {screws, shims};
  std::vector<FaultKind> list;
  const auto add = [&](FaultKind kind) { list.push_back(std::move(kind)); };
  // ---- nothing is wrong
  add({.code = "sound", .met_in_service = 0.30, .met_when_new = 0.60, .innocent = true});
  add({.code = "out_of_level",
       .met_in_service = 0.02,
       .met_when_new = 0.15,
       .innocent = true,
       .holds = weighing});
  add({.code = "trims_open", .met_in_service = 0.04, .met_when_new = 0.10, .innocent = true});
  add({.code = "span_open", .met_in_service = 0.04, .met_when_new = 0.05, .innocent = true});
  // ---- bearings, stands, what touches
  add({.code = "bearing_hangs",
       .at = At::bearing,
       .met_in_service = 0.04,
       .met_when_new = 0.01,
       .mends_by_sharing = true,
       .holds = all,
       .signs = {{"bearing_gap", 0.95}},
       .leave = {"screws", "trims", "span"}});
  add({.code = "stand_sunk",
       .at = At::stand,
       .met_in_service = 0.06,
       .met_when_new = 0.01,
       .mends_by_sharing = true,
       .holds = all,
       .signs = {{"plate_moves", 0.95}, {"bearing_gap", 0.15}},
       .leave = {"screws", "trims", "span"}});
  add({.code = "end_packed",
       .at = At::end,
       .met_in_service = 0.06,
       .met_when_new = 0.008,
       .holds = all,
       .signs = {{"end_touches", 0.95}},
       .leave = {"trims", "span", "zero"}});
  add({.code = "deck_touches",
       .at = At::girder,
       .met_in_service = 0.06,
       .met_when_new = 0.008,
       .holds = all,
       .signs = {{"deck_touches", 0.95}},
       .leave = {"trims", "span"}});
  add({.code = "rocker_tilted",
       .at = At::stand,
       .met_in_service = 0.04,
       .met_when_new = 0.006,
       .holds = weighing,
       .signs = {{"rocker_tilted", 0.95}},
       .leave = {"trims", "span", "zero"}});
  add({.code = "bolts_loose",
       .at = At::module,
       .met_in_service = 0.02,
       .met_when_new = 0.004,
       .holds = all,
       .signs = {{"bolts_loose", 0.95}},
       .leave = {"screws", "trims"}});
  add({.code = "foreign_load",
       .at = At::module,
       .met_in_service = 0.05,
       .met_when_new = 0.008,
       .holds = level,
       .signs = {{"deck_laden", 0.95}},
       .leave = {"screws", "zero"}});
  add({.code = "panel_missing",
       .at = At::module,
       .met_in_service = 0.02,
       .met_when_new = 0.008,
       .holds = level,
       .signs = {{"panel_missing", 0.95}},
       .leave = {"screws", "zero"}});
  add({.code = "trimmed_out",
       .at = At::stand,
       .met_in_service = 0.03,
       .met_when_new = 0.002,
       .holds = weighing,
       .signs = {{"trims_apart", 0.9}, {"deck_touches", 0.9}},
       .leave = {"trims", "span"}});
  // ---- cells, leads, box
  add({.code = "moisture",
       .at = At::stand_or_box,
       .on = On::analog,
       .met_in_service = 0.07,
       .met_when_new = 0.008,
       .holds = all,
       .signs = {{"wet", 0.95}, {"follows_cell", 0.6}},
       .meter = 0.95,
       .no_load = 0.9,
       .leave = {"screws", "trims", "zero"}});
  add({.code = "signal_open",
       .at = At::stand,
       .on = On::analog,
       .met_in_service = 0.03,
       .met_when_new = 0.006,
       .holds = all,
       .signs = {{"lead_loose", 0.95}},
       .meter = 0.95,
       .no_load = 0.5,
       .leave = {"screws", "trims", "span"}});
  add({.code = "excitation_open",
       .at = At::stand,
       .on = On::analog,
       .met_in_service = 0.03,
       .met_when_new = 0.006,
       .holds = all,
       .signs = {{"lead_loose", 0.95}},
       .meter = 0.95,
       .no_load = 0.5,
       .leave = {"screws", "trims", "span"}});
  add({.code = "reversed",
       .at = At::stand,
       .on = On::analog,
       .met_in_service = 0.015,
       .met_when_new = 0.012,
       .holds = all,
       .signs = {{"colours_wrong", 0.95}},
       .meter = 0.3,
       .no_load = 0.3,
       .leave = {"screws", "trims", "span"}});
  add({.code = "wrong_capacity",
       .at = At::stand,
       .met_in_service = 0.02,
       .met_when_new = 0.010,
       .holds = all,
       .signs = {{"label_differs", 0.95}, {"follows_cell", 0.95}},
       .meter = 0.1,
       .leave = {"screws", "trims", "span"}});
  add({.code = "wrong_resistance",
       .at = At::stand,
       .on = On::analog,
       .met_in_service = 0.02,
       .met_when_new = 0.008,
       .holds = all,
       .signs = {{"label_differs", 0.95}, {"follows_cell", 0.95}},
       .meter = 0.98,
       .leave = {"screws", "trims", "span"}});
  add({.code = "swapped",
       .at = At::two_stands,
       .met_in_service = 0.02,
       .met_when_new = 0.03,
       .holds = all,
       .signs = {{"answers_elsewhere", 0.97}},
       .leave = {"screws"}});
  add({.code = "shocked",
       .at = At::stand,
       .met_in_service = 0.05,
       .met_when_new = 0.006,
       .holds = all,
       .signs = {{"creeps", 0.9}, {"follows_cell", 0.95}},
       .meter = 0.4,
       .no_load = 0.97,
       .leave = {"screws", "trims", "zero"}});
  add({.code = "supply_loss",
       .on = On::analog,
       .met_in_service = 0.04,
       .met_when_new = 0.004,
       .holds = all,
       .signs = {{"sense_loose", 0.95}},
       .meter = 0.3,
       .leave = {"span", "trims"}});
  add({.code = "lightning",
       .met_in_service = 0.02,
       .met_when_new = 0.001,
       .holds = all,
       .signs = {{"lightning", 0.95}, {"wet", 0.2}},
       .meter = 0.6,
       .no_load = 0.5,
       .leave = {"screws", "trims", "span", "zero"}});
  add({.code = "cell_silent",
       .at = At::stand,
       .on = On::digital,
       .met_in_service = 0.04,
       .met_when_new = 0.008,
       .holds = all,
       .signs = {{"silent", 0.97}},
       .leave = {"screws", "trims", "span"}});
  add({.code = "address_doubled",
       .at = At::two_stands,
       .on = On::digital,
       .met_in_service = 0.02,
       .met_when_new = 0.012,
       .holds = all,
       .signs = {{"address_doubled", 0.97}, {"answers_elsewhere", 0.6}},
       .leave = {"screws", "trims", "span"}});
  add({.code = "screen_grounded",
       .met_in_service = 0.02,
       .met_when_new = 0.004,
       .holds = all,
       .signs = {{"screen_both_ends", 0.95}},
       .leave = {"trims", "span", "zero"}});
  // ---- how it was read or done
  add({.code = "box_mean",
       .on = On::analog,
       .met_in_service = 0.02,
       .met_when_new = 0.02,
       .holds = level,
       .signs = {{"box_connected", 0.97}},
       .leave = {"screws"}});
  add({.code = "people_on_deck",
       .met_in_service = 0.02,
       .met_when_new = 0.012,
       .holds = all,
       .signs = {{"people_on_deck", 0.95}},
       .leave = {"screws"}});
  add({.code = "tracking_on",
       .met_in_service = 0.012,
       .met_when_new = 0.01,
       .holds = weighing,
       .signs = {{"tracking_on", 0.97}},
       .leave = {"trims", "span"}});
  add({.code = "wrong_turn",
       .at = At::stand,
       .met_in_service = 0.01,
       .met_when_new = 0.03,
       .holds = level,
       .leave = {"screws"}});
  return list;
}

bool fits(const FaultKind& kind, bool digital) {
  return kind.on == On::any || (kind.on == On::digital) == digital;
}

std::string stand_name(int stand) {
  return units::print(units::StandIndex{stand});
}

/// Places of a kind on a deck, priors still open.
std::vector<Suspect> places_of(const FaultKind& kind,
                               const deck::Deck& deck,
                               const statics::Model& model) {
  std::vector<Suspect> list;
  Suspect one;
  one.kind = &kind;
  const int stands = deck.stand_count();
  switch (kind.at) {
    case At::whole:
      list.push_back(one);
      break;
    case At::stand:
    case At::stand_or_box:
      for (int i = 0; i < stands; ++i) {
        one.where = stand_name(i);
        one.stands = {i};
        // What was trimmed out touches under the module that rests there.
        if (kind.code == "trimmed_out") {
          one.mark = deck.modules[at(deck.sections[at(i / 2)].module.value)].mark;
        }
        list.push_back(one);
      }
      if (kind.at == At::stand_or_box) {
        one.where = "box";
        one.stands.clear();
        one.box = true;
        list.push_back(one);
      }
      break;
    case At::two_stands:
      for (int i = 0; i < stands; ++i) {
        for (int j = i + 1; j < stands; ++j) {
          one.where = stand_name(i) + "," + stand_name(j);
          one.stands = {i, j};
          list.push_back(one);
        }
      }
      break;
    case At::bearing: {
      int bearing = 0;
      for (const statics::Contact& contact : model.contacts) {
        if (!contact.is_bearing) continue;
        one.bearing = bearing++;
        one.joint = contact.joint;
        one.side = static_cast<int>(contact.side);
        one.where = "bearing" + std::to_string(contact.joint + 1) + (one.side == 0 ? "L" : "R");
        list.push_back(one);
      }
      break;
    }
    case At::end:
      for (int end = 0; end < 2; ++end) {
        one.end = end;
        one.where = "end" + std::to_string(end + 1);
        list.push_back(one);
      }
      break;
    case At::module:
    case At::girder:
      for (int m = 0; m < static_cast<int>(deck.modules.size()); ++m) {
        // A module of one piece has no halves to be bolted.
        if (kind.code == "bolts_loose" && deck.modules[at(m)].halves == false) continue;
        one.module = m;
        for (int side = kind.at == At::girder ? 0 : 1; side < 2; ++side) {
          one.side = kind.at == At::girder ? side : -1;
          one.where = one.mark = deck.modules[at(m)].mark;
          if (kind.at == At::girder) one.where += side == 0 ? " left" : " right";
          list.push_back(one);
        }
      }
      break;
  }
  return list;
}

/// Left out where the state of the job rules it out.
bool possible(const FaultKind& kind, const Context& context, bool service) {
  if (kind.code == "out_of_level") return !context.grouted || !service;
  if (kind.code == "swapped") return !context.map_proven;
  return true;
}

}  // namespace

const std::vector<FaultKind>& catalogue() {
  static const std::vector<FaultKind> list = make_catalogue();
  return list;
}

const FaultKind* find_kind(std::string_view code) {
  for (const FaultKind& kind : catalogue()) {
    if (kind.code == code) return &kind;
  }
  return nullptr;
}

std::vector<Suspect> suspects_of(const deck::Deck& deck,
                                 const statics::Model& model,
                                 const Context& context,
                                 bool service) {
  std::vector<Suspect> all;
  double sum = 0.0;
  for (const FaultKind& kind : catalogue()) {
    if (!fits(kind, deck.is_digital()) || !possible(kind, context, service)) continue;
    std::vector<Suspect> places = places_of(kind, deck, model);
    double prior = service ? kind.met_in_service : kind.met_when_new;
    if (kind.code == "stand_sunk" && context.grouted) prior = std::max(prior, kSunkSinceGrout);
    if (kind.code == "out_of_level" && context.shared) prior = std::min(prior, kLevelLost);
    for (Suspect& one : places) {
      one.prior = prior / static_cast<double>(places.size());
      sum += one.prior;
      all.push_back(std::move(one));
    }
  }
  for (Suspect& one : all) one.prior /= sum;
  return all;
}

std::vector<std::string> places_to_look(const Suspect& suspect, std::string_view look) {
  const auto& signs = suspect.kind->signs;
  const bool has =
      std::any_of(signs.begin(), signs.end(), [&](const Sign& sign) { return sign.look == look; });
  const record::LookRule* const rule = record::find_look(look);
  if (!has || rule == nullptr) return {};
  using record::LookAt;
  switch (rule->at) {
    case LookAt::whole:
      return {""};
    case LookAt::module:
      if (suspect.mark.empty()) return {};
      return {suspect.mark};
    case LookAt::stand:
    case LookAt::stand_or_box: {
      if (suspect.box) return {"box"};
      std::vector<std::string> places;
      for (const int stand : suspect.stands) places.push_back(stand_name(stand));
      return places;
    }
    case LookAt::joint_side:
    case LookAt::end:
      if (suspect.bearing < 0 && suspect.end < 0) return {};
      return {suspect.where};
  }
  return {};
}

double chance_of_look(const Suspect& suspect, std::string_view look, std::string_view where) {
  for (const std::string& place : places_to_look(suspect, look)) {
    if (place != where) continue;
    for (const Sign& sign : suspect.kind->signs) {
      if (sign.look == look) return sign.found;
    }
  }
  // A stand that sank opens some bearing beside it now and then; lightning may have struck any
  // cell.
  if (look == "bearing_gap" && suspect.kind->code == "stand_sunk") return 0.2;
  if (look == "plate_moves" && suspect.kind->code == "bearing_hangs") return 0.25;
  if (look == "wet" && suspect.kind->code == "lightning") return 0.1;
  if (look == "follows_cell" && suspect.kind->code == "lightning") return 0.4;
  return kFalseAlarm;
}

}  // namespace weighwright::diagnose
