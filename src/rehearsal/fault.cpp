#include "rehearsal/fault.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdint>

#include "chance/counter_random.h"
#include "units/diagnostic.h"
#include "units/quantity.h"
#include "units/suggestion.h"

namespace weighwright::rehearsal {
namespace {

using units::Side;

constexpr std::string_view kBearing = "bearing";

bool has_size(const FaultRule& rule) {
  return !rule.unit.empty();
}

std::size_t places_of(const FaultRule& rule) {
  switch (rule.at) {
    case FaultAt::whole:
      return 0;
    case FaultAt::two_stands:
      return 2;
    default:
      return 1;
  }
}

bool fits(const deck::Deck& deck, FaultAt at, std::string_view place) {
  switch (at) {
    case FaultAt::whole:
      return false;
    case FaultAt::stand:
    case FaultAt::two_stands:
    case FaultAt::turned_stand:
      return stand_of(deck, place).has_value();
    case FaultAt::stand_or_box:
      return place == "box" || stand_of(deck, place).has_value();
    case FaultAt::bearing:
      return bearing_of(deck, place).has_value();
    case FaultAt::end:
      return end_of(place).has_value();
    case FaultAt::module: {
      const auto girder = girder_of(deck, place);
      return girder && !girder->side;
    }
    case FaultAt::girder:
      return girder_of(deck, place).has_value();
  }
  return false;
}

std::string wanted(const deck::Deck& deck, FaultAt at) {
  const std::string stands =
      "1L to " + units::print(units::StandIndex{std::max(0, deck.stand_count() - 1)});
  switch (at) {
    case FaultAt::whole:
      return "no place";
    case FaultAt::stand:
    case FaultAt::turned_stand:
      return "a stand, " + stands;
    case FaultAt::two_stands:
      return "two different stands, " + stands;
    case FaultAt::stand_or_box:
      return "a stand, " + stands + ", or box";
    case FaultAt::bearing:
      return "a bearing of a hinged joint, as bearing1R (joint 1, right)";
    case FaultAt::end:
      return "end1 or end2";
    case FaultAt::module:
      return "the mark of a module, as " + deck.modules.front().mark;
    case FaultAt::girder:
      return "a girder of a module, as \"" + deck.modules.front().mark + " left\"";
  }
  return "";
}

std::vector<int> hinges(const deck::Deck& deck) {
  std::vector<int> list;
  for (int i = 0; i < static_cast<int>(deck.joints.size()); ++i) {
    if (deck.joints[static_cast<std::size_t>(i)].kind == deck::JointKind::hinge) list.push_back(i);
  }
  return list;
}

Side side_of(int which) {
  return which == 0 ? Side::left : Side::right;
}

std::string drawn_place(const deck::Deck& deck, FaultAt at, chance::CounterRandom& random) {
  switch (at) {
    case FaultAt::bearing: {
      const std::vector<int> joints = hinges(deck);
      const int joint =
          joints[static_cast<std::size_t>(random.below(static_cast<int>(joints.size())))];
      return print(BearingPlace{.joint = joint, .side = side_of(random.below(2))});
    }
    case FaultAt::end:
      return random.below(2) == 0 ? "end1" : "end2";
    case FaultAt::module:
    case FaultAt::girder: {
      const int module = random.below(static_cast<int>(deck.modules.size()));
      std::string place = deck.modules[static_cast<std::size_t>(module)].mark;
      if (at == FaultAt::girder) place += random.below(2) == 0 ? " left" : " right";
      return place;
    }
    default:
      return units::print(units::StandIndex{random.below(deck.stand_count())});
  }
}

/// Small and large sizes of one kind are as likely on a scale of ratios.
double drawn_size(const deck::Deck& deck,
                  const FaultRule& rule,
                  const std::vector<std::string>& places,
                  chance::CounterRandom& random) {
  if (rule.code == "wrong_capacity" || rule.code == "wrong_resistance") {
    const auto stand = stand_of(deck, places.front());
    const deck::Cell& cell = deck.stands[static_cast<std::size_t>(stand->value)].cell;
    if (rule.code == "wrong_resistance") return cell.output_ohm > 500.0 ? 350.0 : 700.0;
    return cell.capacity_kg / 1000.0 * (random.below(2) == 0 ? 1.2 : 0.8);
  }
  if (rule.code == "lightning") return rule.least + random.below(3);
  return rule.least * std::pow(rule.most / rule.least, random.uniform());
}

}  // namespace

const std::vector<FaultRule>& fault_rules() {
  using enum FaultAt;
  using enum FaultOn;
  static const std::vector<FaultRule> rules = {
      // At a bearing: size is the air under it.
      {"bearing_hangs", bearing, any, "mm", 1.0, 3.0, 0.1, 50.0,
       "a bearing hangs: its seat is worn or low, size is the air under it"},
      {"stand_sunk", stand, any, "mm", 3.0, 8.0, 0.1, 50.0,
       "the pier sank or the grout is hollow: the stand is low by its size and yields"},
      {"end_packed", end, any, "kN", 1.0, 4.0, 0.01, 50.0,
       "the gap at the end is packed: rubs with up to its size at each side of the end pair"},
      {"deck_touches", girder, any, "mm", 0.5, 3.0, 0.0, 50.0,
       "something lies under a girder at mid-span, size is the air at dead load"},
      {"rocker_tilted", stand, any, "kg", 50.0, 200.0, 1.0, 5000.0,
       "rocker out of plumb or rod not level: reads high or low by its size, by the last braking"},
      {"bolts_loose", module, any, "times", 0.3, 0.7, 0.01, 1.0,
       "bolts of the halves are loose: twist stiffness times its size, readings noisy"},
      {"foreign_load", module, any, "kg", 100.0, 800.0, 1.0, 20000.0,
       "snow, mud or goods lie on the module"},
      {"panel_missing", module, any, "kg", 80.0, 250.0, 1.0, 5000.0,
       "a panel at one end of the module is missing"},
      {"trimmed_out", stand, any, "%", 1.5, 4.0, 0.1, 20.0,
       "something touches near the stand from part of the load on, and the trims hide it"},
      {"moisture", stand_or_box, analog, "Mohm", 2.0, 30.0, 0.01, 10000.0,
       "damp in a cell, its lead or the box: a leak that changes with rain, sun and time"},
      {"signal_open", stand, analog, "cores", 2, 2, 1, 2,
       "the signal cores of a cell are open (1: S+ alone, which leaves half of it)"},
      {"excitation_open", stand, analog, "cores", 2, 2, 1, 2,
       "the excitation cores of a cell are open (1: E+ alone, which leaves half of it)"},
      {"reversed", stand, analog, "", 0, 0, 0, 0, "the signal cores are on each other's terminals"},
      {"wrong_capacity", stand, any, "t", 0, 0, 0.01, 1000.0, "a cell of another capacity"},
      {"wrong_resistance", stand, analog, "ohm", 0, 0, 10.0, 10000.0,
       "a cell of another bridge resistance"},
      {"swapped", two_stands, any, "", 0, 0, 0, 0,
       "two cells are on each other's terminals or addresses"},
      {"shocked", stand, any, "%", 2.0, 6.0, 0.01, 100.0,
       "the cell was shocked: no-load output moved by its size of rated output, it creeps"},
      {"supply_loss", whole, analog, "%", 0.5, 2.5, 0.01, 50.0,
       "a bad contact in the supply: everything low by its size, with the temperature"},
      {"lightning", whole, any, "cells", 2, 4, 2, 24, "lightning: several zeros and insulations"},
      {"box_mean", whole, analog, "", 0, 0, 0, 0,
       "the crew reads the cells with all of them connected in the box"},
      {"people_on_deck", whole, any, "kg", 90.0, 270.0, 1.0, 2000.0,
       "people stand on the deck while it is read"},
      {"tracking_on", whole, any, "", 0, 0, 0, 0, "zero tracking hides drift and small loads"},
      {"screen_grounded", whole, any, "kg", 40.0, 200.0, 1.0, 5000.0,
       "the deck is grounded through a cable screen: zero wanders by its size"},
      {"cell_silent", stand, digital, "", 0, 0, 0, 0, "a digital cell does not answer"},
      {"address_doubled", two_stands, digital, "", 0, 0, 0, 0,
       "two digital cells answer at the address of the first"},
      {"wrong_turn", turned_stand, any, "", 0, 0, 0, 0,
       "the crew makes the next turn at the stand the wrong way round"},
  };
  return rules;
}

const FaultRule* find_fault_rule(std::string_view code) {
  for (const FaultRule& rule : fault_rules()) {
    if (rule.code == code) return &rule;
  }
  return nullptr;
}

std::optional<units::StandIndex> stand_of(const deck::Deck& deck, std::string_view place) {
  const auto stand = units::parse_stand(place);
  if (!stand || stand->value >= deck.stand_count()) return {};
  return stand;
}

std::optional<BearingPlace> bearing_of(const deck::Deck& deck, std::string_view place) {
  if (!place.starts_with(kBearing) || place.size() < kBearing.size() + 2) return {};
  const char side = place.back();
  if (side != 'L' && side != 'R') return {};
  const std::string_view number = place.substr(kBearing.size(), place.size() - kBearing.size() - 1);
  int joint = 0;
  const auto read = std::from_chars(number.data(), number.data() + number.size(), joint);
  if (read.ec != std::errc{} || read.ptr != number.data() + number.size()) return {};
  if (joint < 1 || joint > static_cast<int>(deck.joints.size())) return {};
  if (deck.joints[static_cast<std::size_t>(joint - 1)].kind != deck::JointKind::hinge) return {};
  return BearingPlace{.joint = joint - 1, .side = side == 'L' ? Side::left : Side::right};
}

std::optional<int> end_of(std::string_view place) {
  if (place == "end1") return 0;
  if (place == "end2") return 1;
  return {};
}

std::optional<GirderPlace> girder_of(const deck::Deck& deck, std::string_view place) {
  for (int i = 0; i < static_cast<int>(deck.modules.size()); ++i) {
    const std::string& mark = deck.modules[static_cast<std::size_t>(i)].mark;
    if (place == mark) return GirderPlace{.module = i, .side = {}};
    if (place == mark + " left") return GirderPlace{.module = i, .side = Side::left};
    if (place == mark + " right") return GirderPlace{.module = i, .side = Side::right};
  }
  return {};
}

std::string print(const BearingPlace& bearing) {
  return std::string(kBearing) + std::to_string(bearing.joint + 1) +
         (bearing.side == Side::left ? "L" : "R");
}

FaultProblem check_fault(const deck::Deck& deck, const Fault& fault) {
  const FaultRule* const rule = find_fault_rule(fault.code);
  if (rule == nullptr) {
    std::vector<std::string_view> codes;
    for (const FaultRule& known : fault_rules()) codes.push_back(known.code);
    const auto near = units::nearest(fault.code, codes);
    return {"there is no fault " + units::quote(fault.code),
            near ? "did you mean " + *near + "?" : "one of the list that faults gives"};
  }
  if (rule->on == FaultOn::analog && deck.is_digital()) {
    return {fault.code + " does not happen to digital cells", "a deck with an analog box"};
  }
  if (rule->on == FaultOn::digital && !deck.is_digital()) {
    return {fault.code + " happens to digital cells only", "a deck with digital cells"};
  }
  if (rule->at == FaultAt::bearing && hinges(deck).empty()) {
    return {"the deck has no hinged joint, so no bearing can hang", "another fault"};
  }
  if (!fault.places.empty() || rule->at == FaultAt::whole) {
    if (fault.places.size() != places_of(*rule)) {
      return {fault.code + " is not at " + std::to_string(fault.places.size()) + " places",
              wanted(deck, rule->at)};
    }
    for (const std::string& place : fault.places) {
      if (!fits(deck, rule->at, place)) {
        return {fault.code + " can not be at " + units::quote(place), wanted(deck, rule->at)};
      }
    }
    if (fault.places.size() == 2 && fault.places[0] == fault.places[1]) {
      return {fault.code + " needs two different stands", wanted(deck, rule->at)};
    }
  }
  if (!fault.size) return {};
  if (!has_size(*rule)) return {fault.code + " has no size", "no number behind its place"};
  if (!(*fault.size >= rule->lowest && *fault.size <= rule->highest)) {
    return {fault.code + " of " + units::print_exact(*fault.size) + " " + std::string(rule->unit) +
                " is out of range",
            "from " + units::print_exact(rule->lowest) + " to " +
                units::print_exact(rule->highest) + " " + std::string(rule->unit)};
  }
  return {};
}

Fault filled_in(const deck::Deck& deck, const Fault& fault, std::uint64_t seed) {
  const FaultRule& rule = *find_fault_rule(fault.code);
  chance::SeedHash hash;
  hash.add(fault.code);
  chance::CounterRandom random(seed ^ hash.value());
  Fault full = fault;
  while (full.places.size() < places_of(rule)) {
    const std::string place = drawn_place(deck, rule.at, random);
    if (std::find(full.places.begin(), full.places.end(), place) == full.places.end()) {
      full.places.push_back(place);
    }
  }
  if (!full.size && has_size(rule)) full.size = drawn_size(deck, rule, full.places, random);
  return full;
}

}  // namespace weighwright::rehearsal
