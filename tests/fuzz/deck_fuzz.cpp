#include <cmath>
#include <cstddef>
#include <string>

#include "deck/reading/deck_file.h"
#include "fuzz/entry.h"
#include "units/diagnostic.h"

namespace weighwright::fuzz {

namespace {

/// What statics and share rely on in a deck that was read without a fault.
void check_deck(const deck::Deck& deck) {
  hold(!deck.modules.empty() && deck.sections.size() >= 2);
  hold(deck.joints.size() + 1 == deck.modules.size());
  hold(deck.stands.size() == 2 * deck.sections.size());
  for (const deck::Module& module : deck.modules) {
    hold(module.length_m > 0.0 && module.mass_kg > 0.0 && module.width_m > 0.0);
    hold(module.twisting_Nm2 > 0.0 && module.bending_Nm2 > 0.0);
    hold(std::isfinite(module.centre_m) && module.girders_m.size() >= 2);
  }
  for (const deck::Section& section : deck.sections) {
    const double start_m = deck.start_m(section.module);
    const auto index = static_cast<std::size_t>(section.module.value);
    hold(section.at_m >= start_m && section.at_m <= start_m + deck.modules.at(index).length_m);
    hold(section.across_m > 0.0);
  }
  for (const deck::Stand& stand : deck.stands) {
    hold(stand.cell.capacity_kg > 0.0 && stand.cell.output_V_per_V > 0.0);
    hold(stand.pitch_m > 0.0 && stand.division >= 1 && stand.screws >= 1);
    hold(stand.travel_down_m <= 0.0 && stand.travel_up_m >= 0.0);
  }
}

}  // namespace

void read_deck(std::string_view bytes) {
  const deck::ParsedDeck parsed = deck::parse_deck(bytes, "deck.toml");
  hold(parsed.deck.has_value() == parsed.faults.empty());
  for (const units::Diagnostic& fault : parsed.faults) hold(units::is_utf8(units::print(fault)));
  if (parsed.deck) check_deck(*parsed.deck);
}

}  // namespace weighwright::fuzz

WEIGHWRIGHT_FUZZ_TARGET(weighwright::fuzz::read_deck)
