#pragma once
/// What was typed and can hardly be on this deck: a slip of the finger, or a faulty scale. It is
/// asked for again before it is recorded, and recorded when the person confirms it: facts are never
/// refused for good.

#include <string>

#include "deck/deck.h"
#include "job/load_deck.h"
#include "record/measurement.h"
#include "units/diagnostic.h"

namespace weighwright::job {

/// Turns or shims beyond the whole travel of a stand; a no-load value beyond a tenth of what the
/// cell gives at capacity (zero balance of cells lies within some hundredths; hand estimate, no
/// source); a reading of a cell beyond one and a half times its rated output; an indication or a
/// zero that no load on this deck explains (job/live_limits.h says where that begins).
/// @param file  for the messages
[[nodiscard]] units::Diagnostics implausible(const deck::Deck& deck,
                                             const std::vector<NotKnown>& not_known,
                                             const record::Measurement& what,
                                             const std::string& file);

}  // namespace weighwright::job
