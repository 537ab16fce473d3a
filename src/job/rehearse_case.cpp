#include "job/rehearse_case.h"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>
#include <functional>
#include <stdexcept>
#include <utility>

#include "job/read_events.h"
#include "job/rehearse_words.h"
#include "record/looks.h"
#include "rehearsal/practice.h"
#include "units/quantity.h"
#include "units/suggestion.h"

namespace weighwright::job {

using report::RehearseView;
using Answer = RehearseAnswer;

struct Rehearsal::State {
  InputFile deck_file;
  deck::Deck deck;
  std::uint64_t seed = 0;
  rehearsal::PracticeSite site;
  std::vector<std::string> done;
};

namespace {

using rehearsal::Look;
using rehearsal::PracticeSite;

constexpr std::string_view kFirstLine = "weighwright practice site, format 1";
constexpr std::string_view kSumWord = "sum ";

/// What a command does to the site and says. It may throw what the site throws.
using Doing = std::function<void(PracticeSite&, Reader&, RehearseView&)>;

struct Command {
  std::string_view name;
  std::string_view how;
  std::string_view says;
  bool changes = true;  // kept among what was done: it takes time, or moves something
  Doing act;
};

const char* const kLiftCaution =
    "On a real site: traffic locked out, both sides of a section jacked together, packing follows, "
    "no hand between plate and cell.";
const char* const kLoadCaution =
    "On a real site: loads moved by licensed people, nobody below or beside the deck meanwhile.";
const char* const kOffBoxCaution =
    "On a real site: power off before a cell is taken off the box; note the colours first.";
const char* const kInsulationCaution =
    "On a real site: cell off box and indicator, 50 V DC at most.";

bool in_pounds(const PracticeSite& site) {
  return site.described().units == deck::UnitSystem::us;
}

Look look_of(Reader& reader) {
  return reader.take("fine") ? Look::fine : Look::display;
}

record::Going going_of(Reader& reader) {
  if (reader.take("up")) return record::Going::up;
  if (reader.take("down")) return record::Going::down;
  return record::Going::unknown;
}

/// Every command reads all of its words before it touches the site.
bool readable(Reader& reader) {
  reader.end();
  return !reader.refusal().has_value();
}

bool may_load(const PracticeSite& site,
              const record::LoadPlace& place,
              double load_kg,
              Reader& reader) {
  if (!readable(reader)) return false;
  const std::string no = site.refuses_load(place, load_kg);
  if (no.empty()) return true;
  reader.refuse(no, site.grouted() ? "a place and a load that the deck can bear"
                                   : "grout first, and let it cure");
  return false;
}

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
    view.sentences.push_back(units::print(units::StandIndex{static_cast<int>(i)}) +
                             " was loaded and no reading moved that could be told from the others.");
  }
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
      "On a real site a load comes on when the bag's time at the measured temperature is over, or a "
      "cube says so.");
  view.sentences = {"Grouted; three days have gone by. Screws turn no more; shims do.",
                    "Grout lifts stands while it sets: read the cells again."};
}

void do_place(PracticeSite& site, Reader& reader, RehearseView& view) {
  const record::LoadPlace place = reader.place();
  const double load_kg = reader.mass_kg();
  const record::Going going = going_of(reader);
  const Look look = look_of(reader);
  if (!may_load(site, place, load_kg, reader)) return;
  view.cautions.emplace_back(kLoadCaution);
  show(record::ShiftSet{.readings = {site.place(place, load_kg, going, look)},
                        .us = false,
                        .source = ""},
       in_pounds(site), view);
}

void do_corners(PracticeSite& site, Reader& reader, RehearseView& view) {
  const double load_kg = reader.mass_kg();
  const record::Going going = going_of(reader);
  const Look look = look_of(reader);
  record::LoadPlace corner;
  corner.kind = record::LoadPlace::Kind::stand;
  for (int i = 0; i < site.described().stand_count(); ++i) {
    corner.stand = units::StandIndex{i};
    if (!may_load(site, corner, load_kg, reader)) return;
  }
  view.cautions.emplace_back(kLoadCaution);
  show(site.corners(load_kg, going, look), in_pounds(site), view);
}

std::vector<double> masses(Reader& reader) {
  std::vector<double> list;
  while (!reader.done() && !reader.refusal() && reader.peek() != "fine") {
    list.push_back(reader.mass_kg());
  }
  if (list.empty()) reader.refuse("there is no load", "one or more, as 5 t 10 t 15 t");
  return list;
}

void do_steps(PracticeSite& site, Reader& reader, RehearseView& view) {
  const record::LoadPlace place = reader.place();
  const std::vector<double> loads_kg = masses(reader);
  const Look look = look_of(reader);
  for (const double load_kg : loads_kg) {
    if (!may_load(site, place, load_kg, reader)) return;
  }
  if (!readable(reader)) return;
  view.cautions.emplace_back(kLoadCaution);
  show(site.steps(place, loads_kg, look), in_pounds(site), view);
}

void do_loads(PracticeSite& site, Reader& reader, RehearseView& view) {
  const std::vector<double> loads_kg = masses(reader);
  const Look look = look_of(reader);
  for (const double load_kg : loads_kg) {
    if (!may_load(site, {}, load_kg, reader)) return;
  }
  if (!readable(reader)) return;
  view.cautions.emplace_back(kLoadCaution);
  show(site.loads(loads_kg, look), in_pounds(site), view);
}

std::optional<bool> way_of(Reader& reader) {
  const std::string expected = "1-2 (from end 1 to end 2) or 2-1";
  const std::string way = reader.word(expected);
  if (way == "1-2") return true;
  if (way == "2-1") return false;
  reader.refuse(units::quote(way) + " is no direction", expected);
  return {};
}

void do_drive(PracticeSite& site, Reader& reader, RehearseView& view) {
  const auto way = way_of(reader);
  const record::LoadPlace place = reader.place();
  const double load_kg = reader.mass_kg();
  const Look look = look_of(reader);
  if (!may_load(site, place, load_kg, reader)) return;
  view.cautions.emplace_back(kLoadCaution);
  show(record::ShiftSet{.readings = {site.drive_on(place, load_kg, way.value_or(true), look)},
                        .us = false,
                        .source = ""},
       in_pounds(site), view);
}

void do_pass(PracticeSite& site, Reader& reader, RehearseView& view) {
  const auto way = way_of(reader);
  const double load_kg = reader.mass_kg();
  const Look look = look_of(reader);
  if (!may_load(site, {}, load_kg, reader)) return;
  view.cautions.emplace_back(kLoadCaution);
  show(site.pass(way.value_or(true), load_kg, look), in_pounds(site), view);
}

void do_zero(PracticeSite& site, Reader& reader, RehearseView& view) {
  const Look look = look_of(reader);
  if (readable(reader)) show(site.zero(look), in_pounds(site), view);
}

void do_rock(PracticeSite& site, Reader& reader, RehearseView& view) {
  const Look look = look_of(reader);
  if (readable(reader)) show(site.rock(look), in_pounds(site), view);
}

void do_set_zero(PracticeSite& site, Reader& reader, RehearseView& view) {
  const Look look = look_of(reader);
  if (!readable(reader)) return;
  site.press_zero();
  record::ZeroReading row = site.zero(look);
  row.after = record::ZeroReading::After::zeroed;
  show(row, in_pounds(site), view);
}

void make_trims(PracticeSite& site,
                const record::TrimSet& set,
                Reader& reader,
                RehearseView& view) {
  if (set.moves.empty()) reader.refuse("no trim is named", "a trim and where to: 2L 0.75");
  if (!readable(reader)) return;
  const std::string no = site.refuses(set);
  if (!no.empty()) {
    reader.refuse(no, "what the boxes of this deck have");
    return;
  }
  site.set(set);
  view.cautions.emplace_back(
      "On a real site a seal is broken only by whom the local law allows, its number noted first.");
  show(set, view);
}

record::TrimMove read_trim(const deck::Deck& deck, Reader& reader) {
  record::TrimMove move;
  if (reader.take("section")) {
    move.place.is_section = true;
    const double section = reader.number("a section's number");
    if (!(section >= 1.0 && section <= static_cast<double>(deck.sections.size()))) {
      reader.refuse("there is no such section", "a section of this deck");
    } else {
      move.place.section = units::SectionIndex{static_cast<int>(section) - 1};
    }
  } else {
    move.place.stand = reader.stand();
  }
  if (reader.take("factor")) {
    move.factor = reader.number("a factor, as 1.0025");
    if (!(*move.factor > 0.5 && *move.factor < 2.0)) {
      reader.refuse("a factor is near 1", "a factor, as 1.0025");
    }
    return move;
  }
  const double value = reader.turns();
  if (reader.take("ohm")) {
    move.ohm = value;
    if (value < 0.0) reader.refuse("a resistance is 0 ohm or more", "ohm, as 4.5 ohm");
  } else {
    (void)reader.take("turns");
    move.turns = value;
  }
  return move;
}

void do_trim(PracticeSite& site, Reader& reader, RehearseView& view) {
  record::TrimSet set;
  while (!reader.done() && !reader.refusal()) {
    set.moves.push_back(read_trim(site.described(), reader));
  }
  for (const record::TrimMove& move : set.moves) {
    const record::TrimMove& first = set.moves.front();
    if (move.ohm.has_value() != first.ohm.has_value() ||
        move.factor.has_value() != first.factor.has_value()) {
      reader.refuse("turns, ohm and factors are mixed", "one kind in one command");
    }
  }
  make_trims(site, set, reader, view);
}

void do_span(PracticeSite& site, Reader& reader, RehearseView& view) {
  const double factor = reader.number("what the span is multiplied by, as 1.0023");
  if (!(factor > 0.5 && factor < 2.0)) {
    reader.refuse("a correction of the span is near 1", "as 1.0023");
  }
  if (!readable(reader)) return;
  site.set_span(factor);
  view.sentences = {fmt::format("Span multiplied by {}.", units::print_exact(factor))};
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
  const auto is_end = [&](const std::string& word) { return where == word; };
  switch (at) {
    case record::LookAt::stand:
      return rehearsal::stand_of(deck, where).has_value();
    case record::LookAt::stand_or_box:
      return where == "box" || rehearsal::stand_of(deck, where).has_value();
    case record::LookAt::end:
      return is_end("end 1") || is_end("end 2");
    case record::LookAt::module: {
      const auto girder = rehearsal::girder_of(deck, where);
      return girder && !girder->side;
    }
    case record::LookAt::whole:
      return where.empty();
    case record::LookAt::joint_side:
      for (std::size_t joint = 1; joint <= deck.joints.size(); ++joint) {
        if (where == fmt::format("joint {} left", joint)) return true;
        if (where == fmt::format("joint {} right", joint)) return true;
      }
      return false;
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
      return "end 1 or end 2";
    case record::LookAt::module:
      return "the mark of a module";
    case record::LookAt::whole:
      return "no place";
    case record::LookAt::joint_side:
      return "a side of a joint, as joint 1 right";
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
        "whole", "stand",  "two stands",   "bearing",     "end",
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
  view.columns = {"stand", "force_N", "height_mm", "gain", "no_load_mV_per_V", "trim_ohm",
                  "factor"};
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

const std::vector<Command>& commands() {
  static const std::vector<Command> list = {
      {"cells", "cells [no-load] [at-the-box]", "every cell read, one by one", true, do_cells},
      {"turn", "turn 2R 3/4 2L -1/2", "screws turned; positive raises", true, do_turn},
      {"turns", "turns FILE", "the same from a file stand,turns or stand,shim_mm", true, {}},
      {"shim", "shim 2R 0.5 mm", "shims put in (negative: taken out)", true, do_shim},
      {"gaps", "gaps", "feeler gauge at every stand and bearing", true, do_gaps},
      {"survey", "survey", "stand tops surveyed", true, do_survey},
      {"map", "map", "each stand loaded in turn: which reading moved", true, do_map},
      {"grout", "grout", "grout poured and cured; screws are gone then", true, do_grout},
      {"place", "place 2L 10 t [up|down] [fine]", "one load, zero before and after", true,
       do_place},
      {"corners", "corners 10 t [up|down] [fine]", "a load over every stand in turn", true,
       do_corners},
      {"steps", "steps 2L 5 t 10 t 15 t [fine]", "up and down at one place", true, do_steps},
      {"loads", "loads 5 t 20 t [fine]", "known loads as a whole, for the span", true, do_loads},
      {"drive", "drive 1-2 2L 10 t [fine]", "a load rolls on from an end, brakes, stands", true,
       do_drive},
      {"pass", "pass 1-2 20 t [fine]", "a loaded vehicle passes, braking; then zero", true,
       do_pass},
      {"rock", "rock [fine]", "the empty deck pushed to and fro; then zero", true, do_rock},
      {"zero", "zero [fine]", "display of the empty deck", true, do_zero},
      {"set-zero", "set-zero [fine]", "the zero key", true, do_set_zero},
      {"trim", "trim 2L 0.75 | 2L 4.5 ohm | 2L factor 1.002", "trims moved or set", true, do_trim},
      {"trims", "trims FILE", "the same from a file trim,turns or ohm or factor", true, {}},
      {"span", "span 1.0023", "the indicator's span multiplied", true, do_span},
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
      {"help", "help [looks]", "this list", false, do_help},
  };
  return list;
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
  for (const Command& command : commands()) {
    view.sentences.push_back(fmt::format("{:<44} {}", command.how, command.says));
  }
}

const Command* find_command(const std::string& name) {
  for (const Command& command : commands()) {
    if (command.name == name) return &command;
  }
  return nullptr;
}

Answer refused(const std::string& line, std::string what, std::string expected) {
  return {.view = {},
          .faults = {{.file = "command " + units::quote(line),
                      .line = 0,
                      .column = 0,
                      .what = std::move(what),
                      .expected = std::move(expected)}}};
}

Answer unknown(const std::string& line, const std::string& name) {
  std::vector<std::string_view> names;
  for (const Command& command : commands()) names.push_back(command.name);
  const auto near = units::nearest(name, names);
  return refused(line, "there is no command " + units::quote(name),
                 near ? "did you mean " + *near + "? help lists all" : "help lists all");
}

/// The command done on a copy, so that a site never stays half-way.
Answer done_on(PracticeSite& site,
               const std::string& line,
               Reader& reader,
               const std::function<void(PracticeSite&, Reader&, RehearseView&)>& act) {
  PracticeSite next = site;
  Answer answer;
  answer.view.emplace();
  answer.view->command = line;
  try {
    act(next, reader, *answer.view);
  } catch (const std::runtime_error& error) {
    // The deck could not stand like that.
    return refused(line, error.what(), "something that leaves the deck standing");
  } catch (const std::invalid_argument& error) {
    return refused(line, error.what(), "something that can be done; see help");
  }
  if (reader.refusal()) {
    return refused(line, reader.refusal()->what, reader.refusal()->expected);
  }
  site = std::move(next);
  return answer;
}

std::uint64_t sum_of(std::string_view text) {
  std::uint64_t sum = 0xcbf29ce484222325ULL;  // FNV-1a, 64 bits (from memory, unverified)
  for (const char c : text) {
    sum ^= static_cast<unsigned char>(c);
    sum *= 0x100000001b3ULL;
  }
  return sum;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::size_t start = 0;
  while (start < text.size()) {
    const std::size_t end = std::min(text.find('\n', start), text.size());
    lines.push_back(text.substr(start, end - start));
    start = end + 1;
  }
  return lines;
}

units::Diagnostic damaged(const InputFile& file, int line, std::string what) {
  return {.file = file.name,
          .line = line,
          .column = 0,
          .what = std::move(what),
          .expected = "a practice site as rehearse --site keeps it, untouched; or a new file name"};
}

}  // namespace

Rehearsal::Rehearsal(std::unique_ptr<State> state) : state_(std::move(state)) {}
Rehearsal::~Rehearsal() = default;
Rehearsal::Rehearsal(Rehearsal&&) noexcept = default;
Rehearsal& Rehearsal::operator=(Rehearsal&&) noexcept = default;

RehearseAnswer Rehearsal::command(const std::string& line) {
  Words words = words_of(line);
  if (words.empty()) return {};
  const std::string clean = joined(words);
  const Command* const command = find_command(words.front());
  if (command == nullptr) return unknown(clean, words.front());
  if (!command->act) {
    return refused(clean, "the command needs a file", std::string(command->how));
  }
  Reader reader(state_->deck, Words(words.begin() + 1, words.end()));
  Answer answer = done_on(state_->site, clean, reader, command->act);
  if (answer.view && command->changes) state_->done.push_back(clean);
  return answer;
}

std::optional<std::string> Rehearsal::file_of(const std::string& line) {
  const Words words = words_of(line);
  if (words.size() != 2 || (words[0] != "turns" && words[0] != "trims")) return {};
  return words[1];
}

RehearseAnswer Rehearsal::command(const std::string& line, const InputFile& file) {
  const Words words = words_of(line);
  const Events events = read_events(state_->deck, {file});
  if (!events.faults.empty()) return {.view = {}, .faults = events.faults};
  // What is in the file becomes a command of its own, so that the kept site needs no other file.
  std::string told;
  if (const auto* turns = std::get_if<record::TurnSet>(&events.list.front());
      turns != nullptr && words.front() == "turns") {
    for (const record::StandTurn& turn : turns->stands) {
      if (turn.until_touch) {
        return refused(line, "turning until it touches is not for a practice site",
                       "turns, as 0.75");
      }
      if (told.empty()) told = turn.shim_mm ? "shim" : "turn";
      told += " " + units::print(turn.stand) + " " +
              units::print_exact(turn.shim_mm.value_or(turn.turns.value_or(0.0)));
    }
  }
  if (const auto* trims = std::get_if<record::TrimSet>(&events.list.front());
      trims != nullptr && words.front() == "trims") {
    told = "trim";
    for (const record::TrimMove& move : trims->moves) {
      told += move.place.is_section ? fmt::format(" section {}", move.place.section.value + 1)
                                    : " " + units::print(move.place.stand);
      if (move.factor) told += " factor " + units::print_exact(*move.factor);
      if (move.ohm) told += " " + units::print_exact(*move.ohm) + " ohm";
      if (move.turns) told += " " + units::print_exact(*move.turns);
    }
  }
  if (told.empty()) {
    return refused(line, "the file holds no " + words.front(),
                   words.front() == "turns" ? "a file stand,turns or stand,shim_mm"
                                            : "a file trim,turns or trim,ohm or trim,factor");
  }
  return command(told);
}

std::string Rehearsal::kept() const {
  std::string text(kFirstLine);
  text += fmt::format("\nseed {}\n", state_->seed);
  std::size_t start = 0;
  const std::string& deck = state_->deck_file.text;
  while (start < deck.size()) {
    const std::size_t end = std::min(deck.find('\n', start), deck.size());
    text += "| " + deck.substr(start, end - start) + "\n";
    start = end + 1;
  }
  for (const std::string& line : state_->done) text += "> " + line + "\n";
  return text + fmt::format("{}{:016x}\n", kSumWord, sum_of(text));
}

struct RehearsalMaker {
  static Rehearsal make(std::unique_ptr<Rehearsal::State> state) {
    return Rehearsal(std::move(state));
  }
  static BegunRehearsal begin(const InputFile& deck, std::uint64_t seed) {
    LoadedDeck loaded = load_deck(deck);
    if (!loaded.ok()) return {.site = {}, .faults = std::move(loaded.faults)};
    PracticeSite site(*loaded.deck, {}, seed);
    return {.site = make(std::make_unique<Rehearsal::State>(
                Rehearsal::State{.deck_file = deck,
                                 .deck = std::move(*loaded.deck),
                                 .seed = seed,
                                 .site = std::move(site),
                                 .done = {}})),
            .faults = {}};
  }
  static const InputFile& deck_of(const Rehearsal& site) { return site.state_->deck_file; }
};

BegunRehearsal begin_rehearsal(const InputFile& deck,
                               std::uint64_t seed,
                               const std::vector<std::string>& first) {
  BegunRehearsal begun = RehearsalMaker::begin(deck, seed);
  if (!begun.site) return begun;
  for (const std::string& line : first) {
    const Answer answer = begun.site->command(line);
    begun.faults.insert(begun.faults.end(), answer.faults.begin(), answer.faults.end());
  }
  if (!begun.faults.empty()) begun.site.reset();
  return begun;
}

BegunRehearsal resume_rehearsal(const InputFile& kept, const InputFile& deck) {
  const std::vector<std::string> lines = lines_of(kept.text);
  if (lines.empty() || lines.front() != kFirstLine) {
    return {.site = {}, .faults = {damaged(kept, 1, "this is no practice site")}};
  }
  const std::size_t sum_at = kept.text.rfind(kSumWord);
  const bool whole =
      sum_at != std::string::npos && kept.text[sum_at - 1] == '\n' &&
      kept.text.substr(sum_at) ==
          fmt::format("{}{:016x}\n", kSumWord, sum_of(std::string_view(kept.text).substr(0, sum_at)));
  if (!whole) {
    return {.site = {},
            .faults = {damaged(kept, static_cast<int>(lines.size()),
                               "the practice site is damaged: its sum does not fit")}};
  }
  std::uint64_t seed = 0;
  InputFile inside{.name = kept.name, .text = ""};
  std::vector<std::pair<int, std::string>> done;
  for (std::size_t i = 1; i + 1 < lines.size(); ++i) {
    const std::string& line = lines[i];
    const int number = static_cast<int>(i) + 1;
    if (line.starts_with("seed ")) {
      const auto read = std::from_chars(line.data() + 5, line.data() + line.size(), seed);
      if (read.ec == std::errc{} && read.ptr == line.data() + line.size()) continue;
    } else if (line.starts_with("| ")) {
      inside.text += line.substr(2) + "\n";
      continue;
    } else if (line.starts_with("> ")) {
      done.emplace_back(number, line.substr(2));
      continue;
    }
    return {.site = {}, .faults = {damaged(kept, number, units::quote(line) + " is not understood")}};
  }
  std::string given = deck.text;
  if (!given.ends_with('\n')) given += '\n';
  if (given != inside.text) {
    return {.site = {},
            .faults = {{.file = deck.name,
                        .line = 0,
                        .column = 0,
                        .what = "this is not the deck that the practice site " + kept.name +
                                " began with",
                        .expected = "that deck file unchanged, or a new practice site"}}};
  }
  inside.name = deck.name;
  BegunRehearsal begun = RehearsalMaker::begin(inside, seed);
  if (!begun.site) return begun;
  for (const auto& [number, line] : done) {
    const Answer answer = begun.site->command(line);
    if (answer.view) continue;
    begun.faults.push_back(damaged(kept, number, "the command " + units::quote(line) +
                                                     " can't be done any more"));
    begun.site.reset();
    return begun;
  }
  return begun;
}

}  // namespace weighwright::job
