#pragma once
/// What was typed and can not be on this deck: a slip of the finger, told before it is recorded.

#include <string>

#include "deck/deck.h"
#include "job/load_deck.h"
#include "record/measurement.h"
#include "units/diagnostic.h"

namespace weighwright::job {

/// Turns or shims beyond the whole travel of a stand; a no-load value beyond a tenth of what the
/// cell gives at capacity, where that is known (zero balance of cells lies within some hundredths;
/// hand estimate, no source). @param file  for the messages
[[nodiscard]] units::Diagnostics implausible(const deck::Deck& deck,
                                             const std::vector<NotKnown>& not_known,
                                             const record::Measurement& what,
                                             const std::string& file);

}  // namespace weighwright::job
