#pragma once
/// What a reading of the cells is worth where nobody vouched for its conditions (ticks.h).
///
/// Doubt  standard deviation of the load at each stand, kg, beside the noise of the reading; of
///        several conditions the root of the squares. A condition that is not ticked widens and
///        holds nothing back. Sizes: judgement of ours, no source; condition_doubt.cpp.
/// Of     readings of cells for the dead-load balance. Corner, span and test readings have their
///        zero before and after; what is diagnosed is just what these conditions might hide.

#include <string>
#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"

namespace weighwright::job {

/// @param unmet  names of conditions
[[nodiscard]] double doubt_kg(const std::vector<std::string>& unmet);

/// Adds the doubt to the noise of every reading of the set.
/// @param reading  which one it is since something was moved, from 1: their mean is no surer of
///                 what is the same in all of them
void widen(const deck::Deck& deck,
           const std::vector<std::string>& unmet,
           int reading,
           record::ReadingSet& readings);

/// What is not ticked and what that does, for people; empty where all is.
[[nodiscard]] std::string doubt_words(const deck::Deck& deck,
                                      const std::vector<std::string>& unmet);

}  // namespace weighwright::job
