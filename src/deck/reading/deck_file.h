#pragma once
/// The deck file (TOML, format = 1) to a Deck, all faults of meaning at once.

#include <optional>
#include <string>
#include <string_view>

#include "deck/deck.h"
#include "units/diagnostic.h"

namespace weighwright::deck {

inline constexpr std::size_t kLargestDeckFile_bytes = 1'000'000;

struct ParsedDeck {
  std::optional<Deck> deck;   // empty when there are faults
  units::Diagnostics faults;  // file, line, column, what is wrong, what would be right
  units::Diagnostics notes;   // worth knowing, no fault (reserved tables not yet read)
};

/// Reads a deck file. Never throws on any bytes; a syntax error stops the reading at the first one,
/// faults of meaning are all reported. Every default used is listed in Deck::assumed.
[[nodiscard]] ParsedDeck parse_deck(std::string_view text, const std::string& file);

}  // namespace weighwright::deck
