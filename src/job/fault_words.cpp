#include "job/fault_words.h"

#include <fmt/format.h>

#include <cmath>

#include "job/speak.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using Detail = share::CannotFix::Detail;

/// The three sentences of a fault.
struct Words {
  std::string reason;
  std::string evidence;
  std::string look;
};

/// All that the sentences are made of.
struct Subject {
  const deck::Deck& deck;
  const share::Advice& advice;
  const share::CannotFix& item;
  const ReadingWords& reading;

  [[nodiscard]] std::string stand() const {
    if (!item.stand) return "a stand";
    const auto at = static_cast<std::size_t>(item.stand->value);
    const std::string tag = tag_of(deck.stands[at]);
    return units::print(*item.stand) + (tag.empty() ? "" : " (" + tag + ")");
  }
  [[nodiscard]] std::string section() const {
    if (item.section) return "section " + std::to_string(item.section->value + 1);
    if (item.stand) return "section " + std::to_string(item.stand->section().value + 1);
    return "a section";
  }
  [[nodiscard]] std::string bearing() const {
    if (!item.joint) return "a bearing";
    return "the bearing " + bearing_name(deck, *item.joint, item.side.value_or(units::Side::left));
  }
  [[nodiscard]] std::string amount() const { return Speaker(deck).mass(std::abs(item.amount_N)); }
  /// "2L reads 1.09 mV."
  [[nodiscard]] std::string reads() const {
    if (!item.stand) return "";
    const auto at = static_cast<std::size_t>(item.stand->value);
    if (at >= advice.now.size()) return "";
    const share::StandNow& now = advice.now[at];
    return fmt::format("{} reads {}.", units::print(*item.stand),
                       reading.with_unit(*item.stand, now.signal_V, now.excitation_V));
  }
};

std::string capital(std::string text) {
  if (!text.empty() && text.front() >= 'a' && text.front() <= 'z') {
    text.front() = static_cast<char>(text.front() - 'a' + 'A');
  }
  return text;
}

/// "foreign load on module B" for a section sum whose cause is a module's weight.
Words module_weight(const Subject& subject) {
  const bool heavy = subject.item.detail == Detail::foreign_load;
  return {
      fmt::format("Around {} the deck weighs {} {} than it can; no screw changes that.",
                  subject.section(), subject.amount(), heavy ? "more" : "less"),
      "",
      heavy ? "mud, water, ice, tools or a load left on; then the mass in the deck file."
            : "a panel or cover still to come, the deck touching; then the mass in the deck file."};
}

Words section_sum(const Subject& subject) {
  if (subject.item.detail == Detail::foreign_load || subject.item.detail == Detail::lost_load) {
    return module_weight(subject);
  }
  const bool heavy = subject.item.amount_N > 0.0;
  const std::string side = heavy ? "too much" : "too little";
  return {fmt::format("{} reads {} {}; no screw changes the sum of a section.",
                      capital(subject.section()), subject.amount(), side),
          "",
          heavy
              ? "mud, water or foreign load; a wrong cell or zero there; the deck touching at a "
                "neighbour."
              : "the deck touching (dirt, end gap, conduit); a panel missing; a wrong cell or zero "
                "there."};
}

Words swapped_pair(const Subject& subject) {
  const bool wrong_way = subject.item.detail == Detail::wrong_sign;
  const std::vector<units::StandIndex>& others = subject.item.alternatives;
  const std::string other =
      others.empty() ? "another's" : "that of " + units::print(others.front());
  return {
      wrong_way ? capital(subject.stand()) +
                      " answered its turn the wrong way: its reading and "
                      "another's seem exchanged, or its screws went the other way."
                : "The reading of " + subject.stand() + " and " + other + " seem exchanged.",
      "",
      "load each stand alone (axle or fork truck) and see which reading moves; put the leads or "
      "addresses right before any further turn."};
}

Words wrong_capacity(const Subject& subject) {
  const Speaker say(subject.deck);
  const double other_N = subject.item.other_value * subject.deck.site.gravity_m_per_s2;
  const std::string as =
      other_N > 0.0 ? "as a cell of " + say.mass(other_N) + " would" : "as another cell would";
  return {"At " + subject.stand() + " the cell reads " + as + ".", subject.reads(),
          "the label of that cell against the deck file (capacity and output)."};
}

Words reversed(const Subject& subject) {
  return {"The cell at " + subject.stand() + " reads negative: its signal leads are reversed.",
          subject.reads(),
          "S+ and S- of that cell at the box; also its shipping order of colours."};
}

Words dead_cell(const Subject& subject) {
  return {
      "The cell at " + subject.stand() + " does not answer, though load must stand on it.",
      subject.reads(),
      "its supply at the box, a broken lead, its resistances against the label; then the cell."};
}

/// Why the screws at hand can't land what hangs.
std::string hindrance(Detail detail) {
  switch (detail) {
    case Detail::travel_used:
      return "the turns needed are more than the travel left";
    case Detail::not_adjustable:
      return "that stand can't be adjusted";
    case Detail::no_shim_fits:
      return "no shim on hand fits";
    case Detail::stuck:
      return "the turns made so far did nothing";
    default:
      return "no turn on hand lands it";
  }
}

Words bearing_open(const Subject& subject) {
  return {
      capital(subject.bearing()) + " hangs, and " + hindrance(subject.item.detail) + ".", "",
      "dirt or burr in the seat, the module's bolts, the height of the pads; shim the bearing or "
      "have the pads put right."};
}

Words stand_free(const Subject& subject) {
  return {
      "Stand " + subject.stand() + " carries nothing, and " + hindrance(subject.item.detail) + ".",
      subject.reads(),
      "hollow grout, a sunk pad, a screw backed off; shim it or have the pad put right."};
}

Words touching(const Subject& subject) {
  return {
      "Sections read low, by " + subject.amount() + " in all: the deck rests on something else.",
      "",
      "blocks left in, dirt in the end gaps, debris under a girder, conduit, restraints not "
      "slack."};
}

Words roll(const Subject& subject) {
  const bool left = subject.item.amount_N > 0.0;
  return {
      fmt::format("The {} side as a whole carries more than this deck can put there ({}).",
                  left ? "left" : "right", subject.amount()),
      "",
      "load on one side (mud, panels), the deck touching along one side, two cells exchanged, a "
      "wrong cell or zero."};
}

/// The gap for grout ends before the plan does.
Words grout(const Subject& subject) {
  const Speaker say(subject.deck);
  const auto at = static_cast<std::size_t>(subject.item.stand.value_or(units::StandIndex{}).value);
  const deck::Stand& stand = subject.deck.stands[at];
  const bool up = subject.item.wanted_m > 0.0;
  const std::optional<double>& end_m = up ? stand.grout_max_m : stand.grout_min_m;
  const double left_m = up ? subject.item.left_m : -subject.item.left_m;
  return {fmt::format("{} would have to go {} by {}, and the gap for grout ({} at {}) leaves {}.",
                      capital(subject.stand()), up ? "up" : "down",
                      say.length(std::abs(subject.item.wanted_m)), say.length(end_m.value_or(0.0)),
                      up ? "most" : "least", say.length(std::max(0.0, left_m))),
          subject.reads(),
          "the gap under its plate with a ruler (grout in the deck file); then the pad is chipped "
          "down or a plate packed under it."};
}

Words unknown(const Subject& subject) {
  switch (subject.item.detail) {
    case Detail::box_mean:
      return {
          "All stands read the same though the sections must differ: you are reading the box, not "
          "the cells.",
          "",
          "power off, take S+ and S- of this one cell off the box, leave its supply on, power on, "
          "read, reconnect; then the next cell."};
    case Detail::beyond_output:
      return {capital(subject.stand()) + " reads more than its cell can give.", subject.reads(),
              "volts typed for millivolts; an amplifier in the way; the supply; the cell's label."};
    case Detail::sums_low:
      return touching(subject);
    case Detail::volts_typed:
      return {
          "The readings are a thousand times too small for this deck: volts in a column of "
          "millivolts?",
          subject.reads(), "what the meter shows; type millivolts, or name the column's unit."};
    case Detail::grout:
      return grout(subject);
    case Detail::no_plan:
      return {
          "No set of turns was found that is better than leaving the screws as they are.", "",
          "gaps under stands and bearings, a survey of the heights: either sharpens the answer."};
    default:
      return {capital(subject.stand()) +
                  " can't be mended by adjusting: " + hindrance(subject.item.detail) + ".",
              subject.reads(), "the stand itself: seat, plate, screws, grout."};
  }
}

Words choose(const Subject& subject) {
  switch (subject.item.code) {
    case share::Code::section_sum:
      return section_sum(subject);
    case share::Code::swapped_pair:
      return swapped_pair(subject);
    case share::Code::wrong_capacity:
      return wrong_capacity(subject);
    case share::Code::reversed:
      return reversed(subject);
    case share::Code::dead_cell:
      return dead_cell(subject);
    case share::Code::bearing_open:
      return bearing_open(subject);
    case share::Code::stand_free:
      return stand_free(subject);
    case share::Code::touching:
      return touching(subject);
    case share::Code::roll:
      return roll(subject);
    case share::Code::unknown:
      break;
  }
  return unknown(subject);
}

/// How strong it is, and what else it might be.
std::string strength(const share::CannotFix& item) {
  std::string text;
  if (std::abs(item.z) > 0.0) {
    text += fmt::format(" {} times what chance explains.", units::print_fixed(std::abs(item.z), 1));
  }
  if (item.probability > 0.0) {
    text += " Chance among the causes compared: " + chance(item.probability) + ".";
  }
  if (!item.alternatives.empty() && item.code != share::Code::swapped_pair) {
    std::vector<std::string> others;
    for (const units::StandIndex other : item.alternatives) others.push_back(units::print(other));
    text += " Readings can't tell it from " + all_of(others) + ".";
  }
  return text;
}

}  // namespace

report::CannotFixView words_of(const deck::Deck& deck,
                               const share::Advice& advice,
                               const share::CannotFix& item,
                               const ReadingWords& reading) {
  const Words words = choose({deck, advice, item, reading});
  std::string evidence = words.evidence + strength(item);
  if (!evidence.empty() && evidence.front() == ' ') evidence.erase(0, 1);
  return {.code = share::print(item.code),
          .section = item.section ? std::optional(item.section->value + 1) : std::nullopt,
          .stand = item.stand ? units::print(*item.stand) : "",
          .joint = item.joint ? std::optional(*item.joint + 1) : std::nullopt,
          .reason = words.reason,
          .evidence = evidence,
          .look = words.look};
}

}  // namespace weighwright::job
