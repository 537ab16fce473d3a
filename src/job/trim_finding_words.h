#pragma once
/// What shift readings show that no trim should hide, in words, and where to look for the cause.

#include "deck/deck.h"
#include "report/trim_view.h"
#include "trim/judge.h"

namespace weighwright::job {

[[nodiscard]] report::TrimFindingView finding_words(const deck::Deck& deck,
                                                    const trim::Finding& finding);

}  // namespace weighwright::job
