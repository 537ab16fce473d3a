#pragma once
/// What no screw mends, in words: what is wrong, what shows it, where to look instead.

#include "deck/deck.h"
#include "job/reading_words.h"
#include "report/share_view.h"
#include "share/advice.h"

namespace weighwright::job {

[[nodiscard]] report::CannotFixView words_of(const deck::Deck& deck,
                                             const share::Advice& advice,
                                             const share::CannotFix& item,
                                             const ReadingWords& reading);

}  // namespace weighwright::job
