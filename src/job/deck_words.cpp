#include "job/deck_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "job/speak.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using deck::Restraint;

bool asks_for(const Action& action, const char* tick) {
  return std::find(action.names.begin(), action.names.end(), tick) != action.names.end();
}

std::string degrees(const deck::Deck& deck, double value_degC) {
  constexpr double kPerDegree = 1.8;
  constexpr double kFreezing_degF = 32.0;
  return deck.units == deck::UnitSystem::us
             ? units::print_fixed(value_degC * kPerDegree + kFreezing_degF, 0) + " degF"
             : units::print_fixed(value_degC, 0) + " degC";
}

/// What the bumpers' gaps are to be, by the temperature of the steel.
std::string gap_words(const deck::Deck& deck) {
  constexpr double kStep_K = 10.0;
  const Speaker say(deck);
  const Restraint& restraint = deck.restraint;
  if (!restraint.gap_m) {
    return "This deck stands between bumpers; their gap is not in the deck file: look at the "
           "drawing.";
  }
  if (!restraint.temperature_degC) {
    return fmt::format(
        "This deck stands between bumpers: {} of air at both ends, at which temperature of the "
        "steel is not in the deck file: look at the drawing.",
        say.length(*restraint.gap_m));
  }
  const double at_degC = *restraint.temperature_degC;
  const auto gap = [&](double steel_degC) {
    return fmt::format("{} at {}",
                       say.length(std::max(0.0, deck::end_gap_m(deck, steel_degC).value_or(0.0))),
                       degrees(deck, steel_degC));
  };
  return fmt::format(
      "This deck stands between bumpers. Air at both ends by the steel's temperature: {}, {}, {}. "
      "Measure it at a girder, not in the air.",
      gap(at_degC - kStep_K), gap(at_degC), gap(at_degC + kStep_K));
}

std::string restraint_words(const deck::Deck& deck) {
  if (deck.restraint.kind == Restraint::Kind::gap) return gap_words(deck);
  return "This deck is held by rods: none pulls up or down, and no gap is to be set.";
}

/// "A and C came in halves: ..."; empty: none did
std::string halves_words(const deck::Deck& deck) {
  std::vector<std::string> marks;
  for (const deck::Module& module : deck.modules) {
    if (module.halves == true) marks.push_back(module.mark);
  }
  if (marks.empty()) return "";
  return fmt::format("{} came in halves: the bolts between them are tight before it is lowered.",
                     all_of(marks));
}

}  // namespace

void add_deck_words(const deck::Deck& deck, Action& action) {
  const Restraint::Kind kind = deck.restraint.kind;
  if (action.code == "tick" && asks_for(action, "restraints_set") &&
      kind != Restraint::Kind::unknown) {
    action.how.push_back(restraint_words(deck));
  }
  if (action.code == "tick" && asks_for(action, "set_down")) {
    if (std::string halves = halves_words(deck); !halves.empty()) {
      action.how.push_back(std::move(halves));
    }
  }
  if (action.code == "conditions" && asks_for(action, "rods_slack") &&
      kind != Restraint::Kind::unknown) {
    action.how.emplace_back(
        kind == Restraint::Kind::rods
            ? "The deck file says rods: slack at both ends while it is balanced."
            : "The deck file says bumpers: air at both ends, nothing packed in "
              "while it is balanced.");
  }
}

}  // namespace weighwright::job
