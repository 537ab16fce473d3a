#pragma once
/// What this very deck adds to the words of a step that is ticked: halves to bolt, rods or bumpers.

#include "deck/deck.h"
#include "job/steps.h"

namespace weighwright::job {

/// @param action  a tick or the conditions of a reading; others stay as they are
void add_deck_words(const deck::Deck& deck, Action& action);

}  // namespace weighwright::job
