#pragma once
/// Advice on trims in the words and units of the person at the pit.

#include "deck/deck.h"
#include "report/trim_view.h"
#include "trim/advise.h"

namespace weighwright::job {

[[nodiscard]] report::TrimView view_of(const deck::Deck& deck, const trim::TrimAdvice& advice);

}  // namespace weighwright::job
