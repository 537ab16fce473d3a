#pragma once
/// Advice to what is shown.

#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"
#include "report/share_view.h"
#include "share/advice.h"

namespace weighwright::job {

/// @param unit  in which the cells were read
[[nodiscard]] report::ShareView view_of(const deck::Deck& deck,
                                        const share::Advice& advice,
                                        record::ReadingUnit unit);

}  // namespace weighwright::job
