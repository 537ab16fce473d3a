#pragma once
/// One adjustment in words: which screws, which way, how far; jack or not; why.

#include <string>

#include "deck/deck.h"
#include "report/share_view.h"
#include "share/advice.h"

namespace weighwright::job {

[[nodiscard]] report::MoveView words_of(const deck::Deck& deck,
                                        const share::Advice& advice,
                                        const share::Move& move);

}  // namespace weighwright::job
