#pragma once
/// What each live place can show on this deck, and how still it can be, as plain numbers for link.
///
/// Source  Greatest value: one and a half times Max or rated output. Cells bear 150 % of their
///         capacity without harm (OIML R 60 terms, safe load limit; the figure is usual, from
///         memory, unverified), and a deck that was not zeroed shows its dead load too.
///         What loads explain: Max and 9 e, above which an indicator may show nothing (OIML
///         R 76-1:2006, 4.2.3; from memory, unverified).
///         Stillness: d of the display; for cells the noise that the deck file states ([share]
///         noise, 0.01 mV of a hand meter where it says nothing).

#include <vector>

#include "deck/deck.h"
#include "link/place_limits.h"

namespace weighwright::job {

/// @return by instrument and place, as link::Station takes them
[[nodiscard]] std::vector<std::vector<link::PlaceLimits>> live_limits(
    const deck::Deck& deck, const std::vector<deck::Instrument>& instruments);

/// Greatest indication, and least with a minus sign, that loads on this deck explain.
[[nodiscard]] double most_explained_kg(const deck::Deck& deck);
/// Greatest output of a cell that is a reading: one and a half times its rated output.
[[nodiscard]] double most_output_V_per_V(const deck::Cell& cell);

}  // namespace weighwright::job
