#include "job/rehearse_commands.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "job/deck_poured.h"
#include "job/speak.h"
#include "record/looks.h"
#include "units/diagnostic.h"
#include "units/quantity.h"
#include "units/suggestion.h"

namespace weighwright::job {
namespace {

using rehearsal::PracticeSite;
using report::RehearseView;

const char* const kOffBoxCaution =
    "On a real site: power off before a cell is taken off the box; note the colours first.";
const char* const kInsulationCaution =
    "On a real site: cell off box and indicator, 50 V DC at most.";

void do_cells(PracticeSite& site, Reader& reader, RehearseView& view) {
  bool no_load = false;
  bool at_box = false;
  while (!reader.done()) {
    if (reader.take("no-load")) {
      no_load = true;
    } else if (reader.take("at-the-box")) {
      at_box = true;
    } else {
      break;
    }
  }
  if (!readable(reader)) return;
  if (no_load) view.cautions.emplace_back(kLiftCaution);
  if (!at_box && !site.described().is_digital()) view.cautions.emplace_back(kOffBoxCaution);
  show(at_box ? site.read_at_box(no_load) : site.read(no_load), view);
}

void make_turns(PracticeSite& site,
                const record::TurnSet& set,
                Reader& reader,
                RehearseView& view) {
  if (set.stands.empty()) reader.refuse("nothing is to be turned", "a stand and how far: 2R 3/4");
  for (const record::StandTurn& turn : set.stands) {
    int same = 0;
    for (const record::StandTurn& other : set.stands) same += other.stand == turn.stand ? 1 : 0;
    if (same > 1) {
      reader.refuse(units::print(turn.stand) + " is named twice", "every stand once");
    }
  }
  if (!readable(reader)) return;
  const std::string no = site.refuses(set);
  if (!no.empty()) {
    reader.refuse(no, "what this deck's stands can do");
    return;
  }
  site.turn(set);
  view.cautions.emplace_back(kLiftCaution);
  show(set, view);
}

void do_turn(PracticeSite& site, Reader& reader, RehearseView& view) {
  record::TurnSet set;
  while (!reader.done() && !reader.refusal()) {
    record::StandTurn turn;
    turn.stand = reader.stand();
    turn.turns = reader.turns();
    if (std::abs(turn.turns.value_or(0.0)) > 20.0) {
      reader.refuse("more than 20 turns at once", "what the screw has left");
    }
    set.stands.push_back(turn);
  }
  make_turns(site, set, reader, view);
}

void do_shim(PracticeSite& site, Reader& reader, RehearseView& view) {
  record::TurnSet set;
  while (!reader.done() && !reader.refusal()) {
    record::StandTurn turn;
    turn.stand = reader.stand();
    turn.shim_mm = reader.number("millimetres, as 0.5 mm (negative: taken out)");
    reader.unit("mm");
    if (std::abs(turn.shim_mm.value_or(0.0)) > 50.0) {
      reader.refuse("more than 50 mm of shims", "millimetres, as 0.5 mm");
    }
    set.stands.push_back(turn);
  }
  make_turns(site, set, reader, view);
}

void do_gaps(PracticeSite& site, Reader& reader, RehearseView& view) {
  if (readable(reader)) show(site.gaps(), site.described(), view);
}

void do_survey(PracticeSite& site, Reader& reader, RehearseView& view) {
  if (readable(reader)) show(site.survey(), view);
}

void do_map(PracticeSite& site, Reader& reader, RehearseView& view) {
  if (!readable(reader)) return;
  const record::MapSet set = site.map();
  view.cautions.emplace_back(site.grouted() ? kLoadCaution : kLiftCaution);
  show(set, view);
  std::vector<bool> answered(site.described().stands.size(), false);
  for (const auto& [loaded, moved] : set.loaded_and_moved) {
    answered[static_cast<std::size_t>(loaded.value)] = true;
  }
  for (std::size_t i = 0; i < answered.size(); ++i) {
    if (answered[i]) continue;
    view.sentences.push_back(
        units::print(units::StandIndex{static_cast<int>(i)}) +
        " was loaded and no reading moved that could be told from the others.");
  }
}

/// The rest of the line: marks, none for every module that waits for its concrete.
void do_pour(PracticeSite& site, Reader& reader, RehearseView& view) {
  const std::vector<std::string> waiting = unpoured(site.described());
  std::vector<std::string> marks = reader.rest();
  for (const std::string& mark : marks) {
    if (std::find(waiting.begin(), waiting.end(), mark) != waiting.end()) continue;
    reader.refuse("no module " + units::quote(mark) + " waits for concrete",
                  waiting.empty() ? "a deck file with concrete modules that says poured = false"
                                  : "one of " + all_of(waiting));
    return;
  }
  if (waiting.empty()) {
    reader.refuse("no module of this deck waits for concrete",
                  "a deck file with concrete modules that says poured = false");
    return;
  }
  if (marks.empty()) marks = waiting;
  site.pour(marks);
  view.cautions.emplace_back(
      "On a real site wet concrete burns, and the engineer says when the slab may be stood on and "
      "loaded.");
  view.sentences = {"Poured: " + all_of(marks) +
                    ". A week has gone by and it is hard; what was read before is of another "
                    "deck."};
}

void do_grout(PracticeSite& site, Reader& reader, RehearseView& view) {
  if (!readable(reader)) return;
  if (site.grouted()) {
    reader.refuse("the stands are grouted already", "nothing more to grout");
    return;
  }
  site.grout();
  site.wait(72.0);
  view.cautions.emplace_back(
      "On a real site a load comes on when the bag's time at the measured temperature is over, or "
      "a "
      "cube says so.");
  view.sentences = {"Grouted; three days have gone by. Screws turn no more; shims do.",
                    "Grout lifts stands while it sets: read the cells again."};
}

void do_meter(PracticeSite& site, Reader& reader, RehearseView& view) {
  std::vector<units::StandIndex> stands;
  bool box = false;
  if (reader.done()) reader.refuse("nothing is named", "a stand, box or all");
  while (!reader.done() && !reader.refusal()) {
    if (reader.take("box")) {
      box = true;
    } else if (reader.take("all")) {
      for (int i = 0; i < site.described().stand_count(); ++i) stands.push_back({i});
      box = true;
    } else {
      stands.push_back(reader.stand());
    }
  }
  for (const units::StandIndex stand : stands) {
    if (std::count(stands.begin(), stands.end(), stand) > 1) {
      reader.refuse(units::print(stand) + " is named twice", "every stand once");
    }
  }
  if (site.described().is_digital()) {
    reader.refuse("digital cells have no bridge at their terminals", "cells, look or corners");
  }
  if (!readable(reader)) return;
  view.cautions = {kOffBoxCaution, kInsulationCaution};
  show(site.meter(stands, box), view);
}

/// As looks.h wants its place.
bool is_where(const deck::Deck& deck, record::LookAt at, const std::string& where) {
  switch (at) {
    case record::LookAt::stand:
      return rehearsal::stand_of(deck, where).has_value();
    case record::LookAt::stand_or_box:
      return where == "box" || rehearsal::stand_of(deck, where).has_value();
    case record::LookAt::end:
      return rehearsal::end_of(where).has_value();
    case record::LookAt::module: {
      const auto girder = rehearsal::girder_of(deck, where);
      return girder && !girder->side;
    }
    case record::LookAt::whole:
      return where.empty();
    case record::LookAt::joint_side:
      return rehearsal::bearing_of(deck, where).has_value();
  }
  return false;
}

std::string where_words(record::LookAt at) {
  switch (at) {
    case record::LookAt::stand:
      return "a stand, as 2L";
    case record::LookAt::stand_or_box:
      return "a stand, as 2L, or box";
    case record::LookAt::end:
      return "end1 or end2";
    case record::LookAt::module:
      return "the mark of a module";
    case record::LookAt::whole:
      return "no place";
    case record::LookAt::joint_side:
      return "a bearing, as bearing1R: joint 1, right";
  }
  return "";
}

void do_look(PracticeSite& site, Reader& reader, RehearseView& view) {
  std::vector<std::string_view> codes;
  for (const record::LookRule& rule : record::looks()) codes.push_back(rule.code);
  const std::string code = reader.word("what is looked for, as wet or bearing_gap");
  const record::LookRule* const rule = record::find_look(code);
  if (rule == nullptr) {
    const auto near = units::nearest(code, codes);
    reader.refuse("there is no look " + units::quote(code),
                  near ? "did you mean " + *near + "?" : "a look; help looks lists them");
    return;
  }
  const std::string where = joined(reader.rest());
  if (!is_where(site.described(), rule->at, where)) {
    reader.refuse(code + " can not be looked for at " + units::quote(where), where_words(rule->at));
    return;
  }
  view.sentences = {"Asked: " + std::string(rule->says)};
  show(site.look(code, where), view);
}

void do_wait(PracticeSite& site, Reader& reader, RehearseView& view) {
  const double hours = reader.number("hours, as 3 h");
  reader.unit("h");
  if (!(hours >= 0.0 && hours <= 10000.0)) {
    reader.refuse("that is no time to wait", "hours from 0 to 10000, as 3 h");
  }
  if (!readable(reader)) return;
  site.wait(hours);
  view.sentences = {fmt::format("{} h went by. The steel is at {:.0f} degC.",
                                units::print_exact(hours), site.steel_degC())};
}

void do_weather(PracticeSite& site, Reader& reader, RehearseView& view) {
  rehearsal::Weather weather = site.weather();
  weather.temp_degC = reader.number("the air's temperature, as 28 degC");
  reader.unit("degC");
  if (!(weather.temp_degC >= -40.0 && weather.temp_degC <= 60.0)) {
    reader.refuse("that is no weather", "from -40 to 60 degC");
  }
  weather.rain = weather.sun = false;
  while (!reader.done() && !reader.refusal()) {
    if (reader.take("rain")) {
      weather.rain = true;
    } else if (reader.take("sun")) {
      weather.sun = true;
    } else if (!reader.take("dry") && !reader.take("cloud")) {
      break;
    }
  }
  if (!readable(reader)) return;
  site.weather(weather);
  view.sentences = {fmt::format("{:.0f} degC, {}{}. The steel follows in hours: wait.",
                                weather.temp_degC, weather.rain ? "rain" : "dry",
                                weather.sun ? ", sun" : "")};
}

void do_left_right(PracticeSite& site, Reader& reader, RehearseView& view) {
  if (!readable(reader)) return;
  site.leave_right();
  view.sentences = {
      "Stands level and grouted, corners and span set, zero set: left as it should be."};
}

std::string fault_line(const rehearsal::Fault& fault) {
  std::string line = fault.code;
  for (const std::string& place : fault.places) line += " " + place;
  if (fault.size) {
    line += fmt::format(" {:.3g} {}", *fault.size, rehearsal::find_fault_rule(fault.code)->unit);
  }
  return line;
}

void do_fault(PracticeSite& site, Reader& reader, RehearseView& view) {
  const rehearsal::Fault fault = read_fault(site.described(), reader);
  if (!readable(reader)) return;
  (void)site.strike(fault);
  view.sentences = {"Something is wrong now. curtain tells what; so does a good look."};
}

void do_mend(PracticeSite& site, Reader& reader, RehearseView& view) {
  rehearsal::Fault fault = read_fault(site.described(), reader);
  if (!readable(reader)) return;
  if (!site.mend(fault.code, fault.places)) {
    reader.refuse("there was nothing of that kind to mend", "a fault that is there");
    return;
  }
  view.sentences = {"Mended: " + fault.code + "."};
}

void do_faults(PracticeSite& site, Reader& reader, RehearseView& view) {
  if (!readable(reader)) return;
  view.kind = "faults";
  view.columns = {"fault", "where", "size_unit", "least", "most", "what"};
  for (const rehearsal::FaultRule& rule : rehearsal::fault_rules()) {
    const bool digital = site.described().is_digital();
    if (rule.on == (digital ? rehearsal::FaultOn::analog : rehearsal::FaultOn::digital)) continue;
    static constexpr std::array<std::string_view, 9> kWhere = {
        "whole",  "stand",  "two stands",   "bearing",     "end",
        "module", "girder", "stand or box", "turned stand"};
    std::string what(rule.says);
    for (char& c : what) c = c == ',' ? ';' : c;
    view.rows.push_back(
        {{.text = std::string(rule.code), .number = false},
         {.text = std::string(kWhere.at(static_cast<std::size_t>(rule.at))), .number = false},
         {.text = std::string(rule.unit), .number = false},
         {.text = units::print_exact(rule.lowest), .number = true},
         {.text = units::print_exact(rule.highest), .number = true},
         {.text = what, .number = false}});
  }
}

void do_curtain(PracticeSite& site, Reader& reader, RehearseView& view) {
  if (!readable(reader)) return;
  view.kind = "curtain";
  view.columns = {"stand",    "force_N", "height_mm", "gain", "no_load_mV_per_V",
                  "trim_ohm", "factor"};
  for (const rehearsal::Fault& fault : site.faults()) {
    view.sentences.push_back("Fault: " + fault_line(fault));
  }
  if (site.faults().empty()) view.sentences.emplace_back("Nothing is wrong.");
  view.sentences.push_back(fmt::format("Steel at {:.1f} degC, {:.1f} h since the start, {}.",
                                       site.steel_degC(), site.hours(),
                                       site.grouted() ? "grouted" : "not grouted"));
  const rehearsal::Standing standing = site.true_standing();
  const Eigen::VectorXd heights_m = site.true_heights_m();
  const Eigen::VectorXd gains = site.true_gains();
  const Eigen::VectorXd zeros = site.true_zero_V_per_V();
  for (int i = 0; i < site.described().stand_count(); ++i) {
    const rehearsal::TrueTrim& trim = site.true_trims()[static_cast<std::size_t>(i)];
    const auto figure = [](double value, int decimals) {
      return report::RehearseField{.text = units::print_fixed(value, decimals), .number = true};
    };
    view.rows.push_back({{.text = units::print(units::StandIndex{i}), .number = false},
                         figure(standing.stand_N(i), 1),
                         figure(heights_m(i) * 1e3, 3),
                         figure(gains(i), 6),
                         figure(zeros(i) * 1e3, 5),
                         figure(trim.ohm, 3),
                         figure(trim.factor, 6)});
  }
}

void do_state(PracticeSite& site, Reader& reader, RehearseView& view) {
  if (!readable(reader)) return;
  const rehearsal::Weather& weather = site.weather();
  view.sentences = {
      fmt::format("Practice site: {}.", site.described().name),
      fmt::format("{:.1f} h since the start; air {:.0f} degC, {}{}; steel {:.0f} degC; {}.",
                  site.hours(), weather.temp_degC, weather.rain ? "rain" : "dry",
                  weather.sun ? ", sun" : "", site.steel_degC(),
                  site.grouted() ? "grouted, loads may come"
                                 : "not grouted: no load on the deck, nobody beneath")};
}

void do_help(PracticeSite& site, Reader& reader, RehearseView& view);

std::vector<RehearseCommand> site_commands() {
  return {{"cells", "cells [no-load] [at-the-box]", "every cell read, one by one", true, do_cells},
          {"turn", "turn 2R 3/4 2L -1/2", "screws turned; positive raises", true, do_turn},
          {"turns", "turns FILE", "the same from a file stand,turns or stand,shim_mm", true, {}},
          {"shim", "shim 2R 0.5 mm", "shims put in (negative: taken out)", true, do_shim},
          {"gaps", "gaps", "feeler gauge at every stand and bearing", true, do_gaps},
          {"survey", "survey", "stand tops surveyed", true, do_survey},
          {"map", "map", "each stand loaded in turn: which reading moved", true, do_map},
          {"pour", "pour [A]", "concrete poured into modules that wait for it; a week goes by",
           true, do_pour},
          {"grout", "grout", "grout poured and cured; screws are gone then", true, do_grout},
          {"trims", "trims FILE", "the same from a file trim,turns or ohm or factor", true, {}},
          {"meter", "meter 2L 3R | box | all", "ohms, insulation, mV at terminals", true, do_meter},
          {"look", "look CODE [PLACE]", "somebody goes and looks; help looks lists the codes", true,
           do_look},
          {"wait", "wait 3 h", "time goes by", true, do_wait},
          {"weather", "weather 28 degC [rain] [sun]", "as it is from now on", true, do_weather},
          {"left-right", "left-right", "stands, corners, span set as they should be, grouted", true,
           do_left_right},
          {"fault", "fault CODE [PLACE...] [SIZE UNIT]", "something goes wrong", true, do_fault},
          {"mend", "mend CODE [PLACE...]", "and is mended", true, do_mend},
          {"faults", "faults", "what can go wrong here", false, do_faults},
          {"curtain", "curtain", "the truth, for teaching", false, do_curtain},
          {"state", "state", "time, weather, grout", false, do_state},
          {"help", "help [looks]", "this list", false, do_help}};
}

void do_help(PracticeSite& site, Reader& reader, RehearseView& view) {
  (void)site;
  const bool looks = reader.take("looks");
  if (!readable(reader)) return;
  if (looks) {
    for (const record::LookRule& rule : record::looks()) {
      view.sentences.push_back(
          fmt::format("{:<18} {:<34} {}", rule.code, where_words(rule.at), rule.says));
    }
    return;
  }
  for (const RehearseCommand& command : rehearse_commands()) {
    view.sentences.push_back(fmt::format("{:<44} {}", command.how, command.says));
  }
}

}  // namespace

bool readable(Reader& reader) {
  reader.end();
  return !reader.refusal().has_value();
}

const std::vector<RehearseCommand>& rehearse_commands() {
  static const std::vector<RehearseCommand> list = [] {
    std::vector<RehearseCommand> all = site_commands();
    std::vector<RehearseCommand> loads = rehearse_load_commands();
    for (RehearseCommand& test : rehearse_test_commands()) loads.push_back(std::move(test));
    // Loads behind what is done at the stands.
    const auto behind = std::find_if(all.begin(), all.end(), [](const RehearseCommand& command) {
      return command.name == "trims";
    });
    all.insert(behind, std::make_move_iterator(loads.begin()),
               std::make_move_iterator(loads.end()));
    return all;
  }();
  return list;
}

const RehearseCommand* find_rehearse_command(std::string_view name) {
  for (const RehearseCommand& command : rehearse_commands()) {
    if (command.name == name) return &command;
  }
  return nullptr;
}

}  // namespace weighwright::job
