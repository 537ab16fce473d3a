#include "job/diagnose_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include "job/speak.h"
#include "record/looks.h"
#include "units/place.h"

namespace weighwright::job {
namespace {

using diagnose::Next;

struct CauseText {
  std::string_view code;
  std::string_view name;  // {} is the place
  std::string_view remedy;
};

constexpr std::array kCauses = {
    CauseText{"sound", "nothing is wrong", ""},
    CauseText{"out_of_level", "the dead load is not shared, nothing else", "Share the dead load."},
    CauseText{"trims_open", "the corners are not adjusted, nothing else", "Adjust the corners."},
    CauseText{"span_open", "the span is not set, nothing else", "Set the span."},
    CauseText{"bearing_hangs", "{} hangs free",
              "The load must come back onto it: packing or levelling, both sides of the section "
              "jacked together."},
    CauseText{"stand_sunk", "the pier of {} has sunk, or its grout is hollow",
              "Mend the ground or the grout first, then shim; a shim on a hollow pad sinks again."},
    CauseText{"end_packed", "the gap at {} is packed, or the deck pushes against the end wall",
              "Clean the gap down to the bottom; measure it hot and cold."},
    CauseText{"deck_touches", "something touches under {}",
              "Clean beneath; look for ice, stones, a pipe or cable tray."},
    CauseText{"moisture", "moisture at {}",
              "Open, dry, renew the drying agent; a cell that stays wet is done."},
    CauseText{"signal_open", "a signal core of {} is open",
              "Look at the terminal first, then gland and lead, then the cell."},
    CauseText{"excitation_open", "a supply core of {} is open",
              "Look at the terminal first, then gland and lead, then the cell."},
    CauseText{"reversed", "the signal cores of {} are exchanged (S+ and S-)",
              "Power off, exchange the two at the box."},
    CauseText{"wrong_capacity", "the cell at {} is one of another capacity or output",
              "Read its label; put in the right cell. No trim hides a wrong cell."},
    CauseText{"wrong_resistance", "the cell at {} has another bridge resistance than the others",
              "Read its label; put in the right cell. No trim hides a wrong cell."},
    CauseText{"swapped", "{} are on each other's terminals or addresses",
              "Put them right at the box, or correct the map; then read again."},
    CauseText{"rocker_tilted", "cell or rocker out of plumb at {}, or a rod there not level",
              "Plumb the cell, level the rod; then pass both ways again."},
    CauseText{"shocked", "the cell at {} was shocked or overloaded: its zero has moved",
              "A new cell."},
    CauseText{"supply_loss", "a bad contact in the supply or sense cores between box and indicator",
              "Tighten both ends, clean what is green, cut back what is corroded."},
    CauseText{"foreign_load", "something lies on {} that was not there",
              "Clean the deck, read zero again."},
    CauseText{"panel_missing", "a panel or fitting of {} is missing", "Put it back on."},
    CauseText{"bolts_loose", "bolts of {} are loose", "Tighten as the drawing says, read again."},
    CauseText{"lightning", "lightning or welding current went through several cells",
              "Each cell alone with meter and no-load reading; change what was hit, look at the "
              "indicator too."},
    CauseText{"box_mean", "the cells were read with all of them connected: that is the box's mean",
              "Signal cores of one cell off the box, supply left on; then read that cell."},
    CauseText{"people_on_deck", "somebody stood on the deck while it was read",
              "Everybody off; read again."},
    CauseText{"trimmed_out", "someone trimmed out a bind or a touch near {}",
              "Find what touches. Note the trims, set them back, read all places again."},
    CauseText{"cell_silent", "the digital cell of {} does not answer",
              "Its plug and cable, then its address, then the cell."},
    CauseText{"address_doubled", "{} answer at one address",
              "One cell on the line at a time; give the second its own address."},
    CauseText{"tracking_on", "zero tracking or a filter hides what zero does",
              "Switch it off while you measure, note that it was on, set it back after."},
    CauseText{"screen_grounded", "the deck is grounded through a cable screen",
              "Screen on one end only; a bond of its own from deck to earth."},
    CauseText{"wrong_turn", "{} was turned the wrong way",
              "Which way raises? One quarter turn, and read."},
};

const CauseText* find(std::string_view code) {
  for (const CauseText& cause : kCauses) {
    if (cause.code == code) return &cause;
  }
  return nullptr;
}

std::string plain(std::string code) {
  std::replace(code.begin(), code.end(), '_', ' ');
  return code;
}

bool is_module(const deck::Deck& deck, const std::string& mark) {
  return std::any_of(deck.modules.begin(), deck.modules.end(),
                     [&](const deck::Module& module) { return module.mark == mark; });
}

std::string load_words(const deck::Deck& deck, double load_kg) {
  const Speaker say(deck);
  return say.mass(load_kg * deck.site.gravity_m_per_s2);
}

std::string chance_of_yes(double chance) {
  return chance > 0.5 ? "yes" : "no";
}

}  // namespace

std::string place_words(const deck::Deck& deck, const std::string& where) {
  if (where.starts_with("bearing") && where.size() > 8) {
    const int joint = std::atoi(where.c_str() + 7) - 1;
    const units::Side side = where.back() == 'L' ? units::Side::left : units::Side::right;
    if (joint >= 0 && joint < static_cast<int>(deck.joints.size())) {
      return "bearing " + bearing_name(deck, joint, side);
    }
  }
  if (where == "end1") return "end 1";
  if (where == "end2") return "end 2";
  const std::size_t blank = where.find(' ');
  const std::string mark = where.substr(0, blank);
  if (blank != std::string::npos && is_module(deck, mark)) {
    return "the " + where.substr(blank + 1) + " girder of module " + mark;
  }
  if (is_module(deck, where) && !units::parse_stand(where)) return "module " + where;
  if (where == "box") return "the box";
  const std::size_t comma = where.find(',');
  if (comma != std::string::npos) {
    return where.substr(0, comma) + " and " + where.substr(comma + 1);
  }
  return where;
}

std::string cause_name(const deck::Deck& deck, const std::string& code, const std::string& where) {
  const CauseText* const known = find(code);
  const std::string place = place_words(deck, where);
  if (known == nullptr) return plain(code) + (place.empty() ? "" : " at " + place);
  std::string name(known->name);
  const std::size_t gap = name.find("{}");
  if (gap != std::string::npos) name.replace(gap, 2, place.empty() ? "some place" : place);
  return name;
}

std::string cause_short_name(const deck::Deck& deck,
                             const std::string& code,
                             const std::string& where) {
  const std::string name = cause_name(deck, code, where);
  return name.substr(0, name.find(':'));
}

std::string cause_remedy(const std::string& code) {
  const CauseText* const known = find(code);
  return known != nullptr ? std::string(known->remedy) : "";
}

std::string next_instruction(const deck::Deck& deck, const Next& next) {
  const std::string place = place_words(deck, next.where);
  const std::string load = next.load_kg > 0.0 ? load_words(deck, next.load_kg) : "";
  switch (next.kind) {
    case Next::Kind::look: {
      const record::LookRule* const rule = record::find_look(next.code);
      const std::string question = rule != nullptr ? std::string(rule->says) : plain(next.code);
      return place.empty() ? "Look: " + question : fmt::format("Look at {}: {}", place, question);
    }
    case Next::Kind::cells:
      return "Read every cell alone: its signal cores off the box, its supply left on.";
    case Next::Kind::no_load:
      return fmt::format("Lift the deck off the cell of {} and read it with no load.", place);
    case Next::Kind::load_at:
      return fmt::format("Put {} at {}; zero before and after.", load, place);
    case Next::Kind::up_down:
      return fmt::format(
          "At {}: {} on the way up, half as much more on top, and {} again on the "
          "way down; zero before and after.",
          place, load, load);
    case Next::Kind::two_loads:
      return fmt::format(
          "Put {} at {}, beside the load that was read there; zero before and "
          "after.",
          load, place);
    case Next::Kind::passes:
      return "Drive a loaded vehicle over it, braking on the deck, twice from each end; read zero "
             "after every pass.";
    case Next::Kind::zero_later:
      return "Read zero over some hours, with temperature and rain noted, nothing moved.";
    case Next::Kind::meter:
      return fmt::format(
          "Measure the cell of {}: resistances, insulation (all cores together to "
          "screen and body, 50 V at most), off the box.",
          place);
    case Next::Kind::map:
      return "Load every stand in turn (an axle, 1 t or more) and note whose reading moves.";
  }
  return plain(next.code);
}

std::string next_shows(const deck::Deck& deck, const Next& next) {
  const std::string first = cause_short_name(deck, next.first, next.first_where);
  const std::string second = cause_short_name(deck, next.second, next.second_where);
  if (next.unit.empty()) {
    std::string one = chance_of_yes(next.if_first);
    std::string other = chance_of_yes(next.if_second);
    if (next.kind == Next::Kind::meter || next.kind == Next::Kind::no_load) {
      one = next.if_first > 0.5 ? "it differs from the others" : "nothing unusual";
      other = next.if_second > 0.5 ? "it differs from the others" : "nothing unusual";
    } else if (next.kind == Next::Kind::map) {
      one = next.if_first > 0.5 ? "another reading moves" : "each moves its own";
      other = next.if_second > 0.5 ? "another reading moves" : "each moves its own";
    }
    return fmt::format("If {}: {}. If {}: {}.", first, one, second, other);
  }
  return fmt::format("If {}: about {}. If {}: about {}.", first, load_words(deck, next.if_first),
                     second, load_words(deck, next.if_second));
}

std::vector<std::string> next_dangers(const Next& next) {
  static const std::string kBelow =
      "Lock out the traffic before anybody goes below; gas test and a second person at the pit.";
  static const std::string kPower = "Power off before a core is taken off or put on.";
  switch (next.kind) {
    case Next::Kind::no_load:
      return {kBelow,
              "Jack both sides of the section together, packing follows, rods slack, no hand "
              "between plate and cell."};
    case Next::Kind::meter:
      return {kPower,
              "Cell off box and indicator before the insulation is tested: a 500 V tester kills "
              "cells."};
    case Next::Kind::cells:
      return {kPower};
    case Next::Kind::load_at:
    case Next::Kind::up_down:
    case Next::Kind::two_loads:
      return {
          "Nobody beneath or on the deck while a load is put down; never on a deck whose "
          "grout is not cured."};
    case Next::Kind::passes:
      return {"Nobody beneath or beside the deck while a vehicle passes; slowly, braking gently."};
    case Next::Kind::map:
      return {
          "Nobody beneath the deck while it is loaded; never on a deck whose grout is not "
          "cured: there lift one stand after the other by hand-pump jack, both sides."};
    case Next::Kind::look:
      break;
    case Next::Kind::zero_later:
      return {};
  }
  for (const std::string_view below :
       {"bearing_gap", "plate_moves", "end_touches", "deck_touches", "rocker_tilted", "bolts_loose",
        "label_differs", "answers_elsewhere"}) {
    if (next.code == below) return {kBelow};
  }
  for (const std::string_view box :
       {"wet", "lead_loose", "follows_cell", "colours_wrong", "sense_loose", "screen_both_ends"}) {
    if (next.code == box) return {kPower};
  }
  return {};
}

std::string adjustment_code(diagnose::Adjustment adjustment) {
  switch (adjustment) {
    case diagnose::Adjustment::screws:
      return "screws";
    case diagnose::Adjustment::shims:
      return "shims";
    case diagnose::Adjustment::trims:
      return "trims";
    case diagnose::Adjustment::span:
      break;
  }
  return "span";
}

std::string leave_sentence(const deck::Deck& deck, const diagnose::DoNotTouch& one) {
  const std::string because = cause_short_name(deck, one.because, one.where);
  if (one.what == "screws") return "Levelling screws and shims: if " + because + ", they chase it.";
  if (one.what == "trims") return "Trims: if " + because + ", they would only hide it.";
  if (one.what == "span") return "The span: if " + because + ", it is wrong again tomorrow.";
  if (one.what == "zero") {
    return "The zero key: what zero does is evidence; note it before anybody presses it.";
  }
  return plain(one.what) + ": if " + because + ".";
}

}  // namespace weighwright::job
