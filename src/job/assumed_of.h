#pragma once
/// What an answer took for granted, without what has no part in it.

#include <vector>

#include "deck/deck.h"

namespace weighwright::job {

/// Drops what was assumed of screws and of sharing the dead load: for answers that hold whatever
/// they are.
void drop_sharing(std::vector<deck::Assumed>& assumed);

/// Adds what is not there yet.
void add_assumed(std::vector<deck::Assumed>& assumed, const std::vector<deck::Assumed>& more);

}  // namespace weighwright::job
