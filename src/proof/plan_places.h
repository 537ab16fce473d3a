#pragma once
/// Where a load stands for a test, as a rectangle on the deck, kept from standing over its edge.

#include "deck/deck.h"
#include "proof/stock.h"
#include "proof/test_plan.h"

namespace weighwright::proof {

/// Width that every module has, m.
[[nodiscard]] double usable_width_m(const deck::Deck& deck);

/// Middle of a place. A stand of a deck on four stands stands for its quarter of the deck.
struct Middle {
  double x_m = 0.0;
  double y_m = 0.0;
};
[[nodiscard]] Middle middle_of(const deck::Deck& deck,
                               rules::Check check,
                               const record::LoadPlace& place);

/// What the load covers. A vehicle or cart: its own outline where it is stated; weights: the area
/// that the test gives (pattern of a section, 1/n of the deck over a support, all of the deck).
[[nodiscard]] Patch patch_at(const deck::Deck& deck,
                             const rules::Rulebook& rulebook,
                             const Stock& stock,
                             const Pieces& pieces,
                             rules::Check check,
                             const record::LoadPlace& place);

/// The longest span between two sections: its first section.
[[nodiscard]] units::SectionIndex longest_span(const deck::Deck& deck);

[[nodiscard]] record::LoadPlace at_stand(int stand);
[[nodiscard]] record::LoadPlace at_section(int section);
[[nodiscard]] record::LoadPlace at_span(int section);
/// Left or right of a section.
[[nodiscard]] record::LoadPlace beside(const deck::Deck& deck, int section, units::Side side);
/// "2L", "section 2", "2-3", "deck".
[[nodiscard]] std::string name_of(const record::LoadPlace& place);

}  // namespace weighwright::proof
