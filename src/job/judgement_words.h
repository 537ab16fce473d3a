#pragma once
/// What was judged of the readings, and what is worth measuring, in words.

#include <vector>

#include "deck/deck.h"
#include "report/share_view.h"
#include "share/advice.h"

namespace weighwright::job {

[[nodiscard]] std::vector<report::JudgementView> judgements_of(const deck::Deck& deck,
                                                               const share::Advice& advice);

[[nodiscard]] report::AskView words_of(const deck::Deck& deck, const share::Ask& ask);

}  // namespace weighwright::job
