#pragma once
/// What known loads show that no span should hide, in words, and where to look for the cause.

#include "deck/deck.h"
#include "report/span_view.h"
#include "span/advise.h"

namespace weighwright::job {

[[nodiscard]] report::SpanFindingView finding_words(const deck::Deck& deck,
                                                    const span::Finding& finding);

}  // namespace weighwright::job
