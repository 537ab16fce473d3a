#include "job/move_words.h"

#include <fmt/format.h>

#include <cmath>

#include "job/speak.h"
#include "job/turn_words.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

const deck::Stand& stand_of(const deck::Deck& deck, const share::Move& move) {
  return deck.stands[static_cast<std::size_t>(move.stand.value)];
}

std::string named(const deck::Deck& deck, const share::Move& move) {
  const std::string tag = tag_of(stand_of(deck, move));
  return units::print(move.stand) + (tag.empty() ? "" : " (" + tag + ")");
}

/// Shims as they are stamped: "3 mm", "0.125 in".
std::string shim_size(const deck::Deck& deck, double size_m) {
  return deck.units == deck::UnitSystem::us ? fmt::format("{:.4g} in", size_m / units::kInch_m)
                                            : fmt::format("{:.4g} mm", size_m * 1e3);
}

std::string shim_instruction(const deck::Deck& deck, const share::Move& move) {
  std::vector<std::string> sizes;
  for (const double size_m : move.shims_m) sizes.push_back(shim_size(deck, std::abs(size_m)));
  if (sizes.empty()) sizes.push_back(shim_size(deck, std::abs(move.raise_m)));
  return fmt::format("{} {} of shim at {} ({} {}).", move.raise_m > 0.0 ? "Add" : "Take out",
                     all_of(sizes), named(deck, move), move.raise_m > 0.0 ? "up" : "down",
                     shim_size(deck, std::abs(move.raise_m)));
}

std::string screw_instruction(const deck::Deck& deck, const share::Move& move) {
  const Speaker say(deck);
  const deck::Stand& stand = stand_of(deck, move);
  const bool raises = move.turns > 0.0;
  const std::string rounds = rounds_of(move.turns, stand.division, stand.screws);
  const std::string total = turns_word(move.turns, stand.division);
  const std::string rise = say.length(std::abs(move.raise_m));
  const std::string way = direction_of(stand, raises);
  if (!way.empty()) {
    std::string screws = screws_of(stand);
    screws.front() = static_cast<char>(screws.front() - 'a' + 'A');
    return fmt::format("{} at {}, {} seen from above, {}: {} {} in all, {}.", screws,
                       named(deck, move), way, rounds, total, raises ? "up" : "down", rise);
  }
  return fmt::format(
      "{} {} by {} on {} ({}; {}); {}. Which way raises is not known: turn one 1/4 turn and look.",
      raises ? "Raise" : "Lower", named(deck, move), total,
      stand.screws == 1 ? "its screw" : "each of its " + number_word(stand.screws) + " screws",
      raises ? "up" : "down", rise, rounds);
}

std::string jacking(const deck::Deck& deck, const share::Move& move) {
  const Speaker say(deck);
  const bool screws = !move.shim && move.torque_Nm > 0.0;
  if (!move.jack_first) {
    return screws ? "No jack: about " + say.torque(move.torque_Nm) + " a screw." : "";
  }
  std::string text = fmt::format("Jack first, {} and its partner together ({} on the section)",
                                 units::print(move.stand), say.mass(move.section_N));
  if (screws) text += fmt::format("; {} a screw is too much to turn", say.torque(move.torque_Nm));
  if (move.lift_m > 0.0) text += fmt::format("; free at {}", say.length(move.lift_m));
  if (std::isfinite(move.most_lift_m) && move.most_lift_m > 0.0 && !move.lift_limited_by.empty()) {
    text += fmt::format("; no more than {} or {} opens", say.length(move.most_lift_m),
                        move.lift_limited_by);
  }
  return text + ".";
}

/// The bearing most likely to hang, by name; empty when none is believed to.
std::string hanging(const deck::Deck& deck, const share::Advice& advice) {
  const share::OpenBelief* likeliest = nullptr;
  for (const share::OpenBelief& open : advice.open_bearings) {
    if (likeliest == nullptr || open.chance > likeliest->chance) likeliest = &open;
  }
  if (likeliest == nullptr || likeliest->chance < 0.5) return "";
  return "bearing " + bearing_name(deck, likeliest->joint, likeliest->side);
}

/// Which modules a section twists, on a chain with one section more than modules; else nothing.
std::string twisted(const deck::Deck& deck, int section) {
  const int modules = static_cast<int>(deck.modules.size());
  if (static_cast<int>(deck.sections.size()) != modules + 1) return ".";
  const auto mark = [&](int module) { return deck.modules[static_cast<std::size_t>(module)].mark; };
  std::string names;
  if (section == 0) {
    names = mark(0) + " is";
  } else if (section == modules) {
    names = mark(modules - 1) + " is";
  } else {
    names = mark(section - 1) + " or " + mark(section) + " is";
  }
  return fmt::format(": {} twisted (by pads or as built; readings can't tell which).", names);
}

std::string why(const deck::Deck& deck, const share::Advice& advice, const share::Move& move) {
  const Speaker say(deck);
  const auto section = static_cast<std::size_t>(move.stand.section().value);
  const std::string own = units::print(move.stand);
  const std::string partner = units::print(units::StandIndex{move.stand.value ^ 1});
  const double apart_N =
      section < advice.pairs.size() ? std::abs(advice.pairs[section].difference_N) : 0.0;
  switch (move.why) {
    case share::Move::Why::raise_light:
      return fmt::format("{} carries {} less than {}{}", own, say.mass(apart_N), partner,
                         twisted(deck, move.stand.section().value));
    case share::Move::Why::lower_heavy:
      return fmt::format("{} carries {} more than {}{}", own, say.mass(apart_N), partner,
                         twisted(deck, move.stand.section().value));
    case share::Move::Why::land_hanging: {
      const std::string bearing = hanging(deck, advice);
      return fmt::format("{} must press before the screws can share the load.",
                         bearing.empty() ? "What hangs" : "The " + bearing);
    }
    case share::Move::Why::follow:
      break;
  }
  return "It follows the other moves; without it the twist they take out would land here.";
}

}  // namespace

report::MoveView words_of(const deck::Deck& deck,
                          const share::Advice& advice,
                          const share::Move& move) {
  const deck::Stand& stand = stand_of(deck, move);
  report::MoveView view;
  view.stand = units::print(move.stand);
  view.tag = tag_of(stand);
  view.shim = move.shim;
  view.turns = move.turns;
  view.raise_mm = move.raise_m * 1e3;
  for (const double shim_m : move.shims_m) view.shims_mm.push_back(shim_m * 1e3);
  view.jack_first = move.jack_first;
  view.load_N = move.load_N;
  view.torque_Nm = move.torque_Nm;
  view.jack_N = move.jack_N;
  view.section_N = move.section_N;
  view.lift_mm = move.lift_m * 1e3;
  view.most_lift_mm = move.most_lift_m * 1e3;
  view.lift_limited_by = move.lift_limited_by;
  view.short_form =
      move.shim ? (move.raise_m > 0.0 ? "add " : "out ") + shim_size(deck, std::abs(move.raise_m))
                : short_turn(move.turns, stand.division);
  view.instruction = move.shim ? shim_instruction(deck, move) : screw_instruction(deck, move);
  if (move.grout_m) {
    view.grout_mm = *move.grout_m * 1e3;
    view.instruction +=
        fmt::format(" The gap for grout under it is then {}.", Speaker(deck).length(*move.grout_m));
  }
  view.jacking = jacking(deck, move);
  view.why = why(deck, advice, move);
  return view;
}

}  // namespace weighwright::job
