#pragma once
/// The rows of the compatibility check in words and in the units of the site.

#include <vector>

#include "deck/deck.h"
#include "report/signal_view.h"
#include "signal/compatibility.h"

namespace weighwright::job {

[[nodiscard]] std::vector<report::InequalityView> rows_of(const deck::Deck& deck,
                                                          const signal::Compatibility& check);

}  // namespace weighwright::job
