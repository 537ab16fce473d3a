#include "job/level_case.h"

#include <fmt/format.h>

#include <cmath>

#include "job/deck_argument.h"
#include "job/speak.h"
#include "job/turn_words.h"
#include "share/level.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

double read(const std::string& option,
            const std::string& text,
            units::Kind kind,
            units::Diagnostics& faults) {
  const units::Parsed parsed = units::parse(text, kind);
  if (!parsed.ok()) {
    faults.push_back(
        {.file = option, .line = 0, .column = 0, .what = parsed.what, .expected = parsed.expected});
  }
  return parsed.value;
}

std::string instruction(const deck::Stand& stand, double turns) {
  if (turns == 0.0) return "leave it";
  const bool raises = turns > 0.0;
  const std::string way = direction_of(stand, raises);
  return turns_word(turns, stand.division) + (raises ? " up" : " down") +
         (way.empty() ? "" : " (" + way + " seen from above)");
}

report::LevelView show(const deck::Deck& deck,
                       units::StandIndex place,
                       const deck::Stand& stand,
                       const share::LevelMove& move) {
  const Speaker say(deck);
  report::LevelView view;
  view.stand = units::print(place);
  for (std::size_t i = 0; i < move.turns.size(); ++i) {
    view.screws.push_back({.corner = share::print(static_cast<share::Corner>(i)),
                           .turns = move.turns[i],
                           .exact_turns = move.exact_turns[i],
                           .raise_mm = move.raise_m[i] * 1e3,
                           .instruction = instruction(stand, move.turns[i])});
  }
  view.left_along_mm_per_m = move.left_along * 1e3;
  view.left_across_mm_per_m = move.left_across * 1e3;
  view.rock_mm = move.rock_m * 1e3;
  view.remains = fmt::format(
      "Then the plate is off level by {} mm/m along and {} mm/m across. Last: all four hand-firm, "
      "none loose; try each with a feeler gauge.",
      units::print_fixed(view.left_along_mm_per_m, 1),
      units::print_fixed(view.left_across_mm_per_m, 1));
  view.cautions.push_back(
      "Only with the load off this plate: jack both sides of the section together, lock the nuts, "
      "follow with packing; no hand between plate and cell.");
  if (stand.screw_kind == deck::ScrewKind::unknown) {
    view.cautions.push_back("Which way raises is not known: turn one screw 1/4 turn and look.");
  }
  return view;
}

}  // namespace

LevelAnswer level_case(const LevelRequest& request) {
  LoadedDeck loaded = load_deck(request.deck);
  if (!loaded.ok()) return {.view = {}, .faults = std::move(loaded.faults)};
  const deck::Deck& deck = *loaded.deck;
  ParsedStand place = parse_stand_of(request.stand, deck, "--stand");
  units::Diagnostics faults = std::move(place.faults);
  const double along = read("--along", request.along, units::Kind::slope, faults);
  const double across = read("--across", request.across, units::Kind::slope, faults);
  const double raise_m =
      request.raise ? read("--raise", *request.raise, units::Kind::length, faults) : 0.0;
  if (faults.empty()) {
    const deck::Stand& stand = deck.stands[static_cast<std::size_t>(place.stand->value)];
    if (stand.adjust == deck::Adjust::screws && stand.screws == 4) {
      return {.view = show(deck, *place.stand, stand,
                           share::level_plate(stand, along, across, raise_m)),
              .faults = {}};
    }
    faults.push_back({.file = "--stand",
                      .line = 0,
                      .column = 0,
                      .what = "stand " + units::print(*place.stand) + " has no four screws",
                      .expected = "a stand with adjust = \"screws\" and screws = 4"});
  }
  return {.view = {}, .faults = std::move(faults)};
}

}  // namespace weighwright::job
