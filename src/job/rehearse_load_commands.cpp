// Commands that put loads on the deck, read its display, or set it.
#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "job/rehearse_commands.h"
#include "units/diagnostic.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using rehearsal::Look;
using rehearsal::PracticeSite;
using report::RehearseView;

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

void do_place(PracticeSite& site, Reader& reader, RehearseView& view) {
  const record::LoadPlace place = reader.place();
  const double load_kg = reader.mass_kg();
  const record::Going going = going_of(reader);
  const Look look = look_of(reader);
  if (!may_load(site, place, load_kg, reader)) return;
  view.cautions.emplace_back(kLoadCaution);
  show(
      record::ShiftSet{
          .readings = {site.place(place, load_kg, going, look)}, .us = false, .source = ""},
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

}  // namespace

std::vector<RehearseCommand> rehearse_load_commands() {
  return {
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
      {"span", "span 1.0023", "the indicator's span multiplied", true, do_span}};
}

}  // namespace weighwright::job
