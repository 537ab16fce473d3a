#pragma once
/// The deck as the rules see it.

#include "deck/deck.h"
#include "rules/limits.h"

namespace weighwright::proof {

/// Supports are stands; a pair is a section; T+ from the receptor.
[[nodiscard]] rules::Scale scale_of(const deck::Deck& deck);

}  // namespace weighwright::proof
