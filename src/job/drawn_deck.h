#pragma once
/// A deck to scale, as its file describes it; what is believed of it is added by who knows.

#include "deck/deck.h"
#include "report/page_view.h"

namespace weighwright::job {

[[nodiscard]] report::DrawnDeck drawn_deck(const deck::Deck& deck);

}  // namespace weighwright::job
