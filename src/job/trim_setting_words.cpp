#include "job/trim_setting_words.h"

#include <fmt/format.h>

#include <cmath>

#include "job/indication_words.h"
#include "job/speak.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using trim::Element;
using trim::TrimKind;

int division_of(const deck::Deck& deck) {
  return static_cast<int>(std::lround(1.0 / deck.trimming.step_turns));
}

std::string ohm(double value) {
  return units::print_fixed(value, value < 10.0 ? 2 : 1) + " ohm";
}

}  // namespace

std::string trim_name(const deck::Deck& deck, const Element& element) {
  if (element.place.is_section) return "the trim of section " + trim::print(element.place);
  const std::string tag = tag_of(deck.stands[static_cast<std::size_t>(element.stands.front())]);
  return (element.kind == TrimKind::digital ? "the factor of " : "the trim of ") +
         trim::print(element.place) + (tag.empty() ? "" : " (" + tag + ")");
}

TrimSettingWords::TrimSettingWords(const deck::Deck& deck, const trim::TrimAdvice& advice)
    : deck_(deck), advice_(advice) {}

std::string TrimSettingWords::place(int element) const {
  return trim_name(deck_, advice_.elements[static_cast<std::size_t>(element)]);
}

std::string TrimSettingWords::turns(double turns) const {
  const std::string amount = units::print_turns(std::abs(turns), division_of(deck_));
  const bool one = std::abs(turns) <= 1.0;
  return fmt::format("{} turn{} {}", amount, one ? "" : "s",
                     turns > 0.0 ? "clockwise" : "counter-clockwise");
}

std::string TrimSettingWords::setting_text(const trim::TrimSetting& setting) const {
  const Element& element = advice_.elements[static_cast<std::size_t>(setting.element)];
  if (setting.factor) return "to " + units::print_fixed(*setting.factor, 5);
  std::string text;
  if (setting.turns) text = turns(*setting.turns);
  if (setting.ohm) {
    const char* const where =
        element.kind == TrimKind::signal ? "both signal leads" : "both excitation leads";
    text +=
        fmt::format("{}to {} ({} together)", text.empty() ? "" : ", ", ohm(*setting.ohm), where);
  }
  return text;
}

report::TrimSettingView TrimSettingWords::setting(const trim::TrimSetting& setting) const {
  const Element& element = advice_.elements[static_cast<std::size_t>(setting.element)];
  const IndicationWords say(deck_);
  report::TrimSettingView view;
  view.trim = trim::print(element.place);
  view.tag = tag_of(deck_.stands[static_cast<std::size_t>(element.stands.front())]);
  view.gain = std::exp(setting.change);
  view.u_gain = setting.u_change;
  view.turns = setting.turns;
  view.ohm = setting.ohm;
  view.factor = setting.factor;
  view.at_end = setting.at_end;
  view.setting = setting_text(setting);
  const double moves_kg = setting.change * advice_.reference_kg;
  std::string name = place(setting.element);
  name.front() = 'T';
  view.instruction =
      fmt::format("{}: {}. That {} its reading by {} against the others, with {} over it.", name,
                  view.setting, moves_kg < 0.0 ? "lowers" : "raises", say.mass(std::abs(moves_kg)),
                  say.load(advice_.reference_kg));
  if (setting.at_end)
    view.instruction += " It is then at its end, and would go further if it could.";
  return view;
}

std::string TrimSettingWords::change_words(int element, double change) const {
  const Element& trim = advice_.elements[static_cast<std::size_t>(element)];
  if (trim.kind == TrimKind::digital) return fmt::format("times {:.5f}", std::exp(change));
  if (trim.per_turn) {
    const double step = deck_.trimming.step_turns;
    return turns(std::round(change / *trim.per_turn / step) * step);
  }
  return fmt::format("{:+.3f} %", std::expm1(change) * 100.0);
}

report::TrimStepView TrimSettingWords::step(const trim::OrderStep& step) const {
  report::TrimStepView view;
  view.kind = step.is_pair ? "pair" : "section";
  view.section = step.section + 1;
  std::string changes;
  for (const auto& [element, change] : step.changes) {
    const Element& trim = advice_.elements[static_cast<std::size_t>(element)];
    changes +=
        fmt::format("{}{}: {}", changes.empty() ? "" : "; ",
                    (trim.place.is_section ? "trim of section " : "") + trim::print(trim.place),
                    change_words(element, change));
  }
  view.sentence =
      step.is_pair
          ? fmt::format("Pair {}: {}, until left and right read alike.", view.section, changes)
          : fmt::format("Section {}, load at its middle: {}.", view.section, changes);
  return view;
}

std::string TrimSettingWords::learning(const trim::Learning& learning) const {
  const Element& element = advice_.elements[static_cast<std::size_t>(learning.element)];
  return fmt::format(
      "Turn {} by {}. {}With the load over {} read the display before and after; put both into "
      "files "
      "(trim,turns and a shift reading) and run this again. That says what a turn does and which "
      "way it goes.",
      place(learning.element), turns(learning.turns),
      element.start_assumed && deck_.trimming.attenuates
          ? "(All trims are taken to stand at their least attenuation: put them there first, or "
            "say in "
            "the deck file where they stand.) "
          : "",
      trim::print(element.place));
}

std::string TrimSettingWords::brief(int element) const {
  for (const trim::TrimSetting& setting : advice_.settings) {
    if (setting.element != element) continue;
    if (setting.factor) return units::print_fixed(*setting.factor, 5);
    if (setting.turns) {
      return fmt::format("{} {}", units::print_turns(std::abs(*setting.turns), division_of(deck_)),
                         *setting.turns > 0.0 ? "cw" : "ccw");
    }
    if (setting.ohm) return ohm(*setting.ohm);
  }
  return "";
}

}  // namespace weighwright::job
