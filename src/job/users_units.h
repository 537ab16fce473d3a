#pragma once
/// Masses in a sentence of the core, which knows kilograms alone, in the units of the deck.

#include <string>

#include "deck/deck.h"

namespace weighwright::job {

/// "about 9071.8 kg stood on one pattern" -> "about 20,000 lb stood on one pattern" on a US deck;
/// otherwise unchanged.
[[nodiscard]] std::string in_users_units(const deck::Deck& deck, const std::string& sentence);

}  // namespace weighwright::job
