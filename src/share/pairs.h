#pragma once
/// Are left and right alike? The question on which the job of sharing ends.

#include <vector>

#include "deck/deck.h"
#include "share/advice.h"
#include "share/evidence.h"
#include "share/plan.h"

namespace weighwright::share {

/// Difference, tolerance and side conditions of every pair, from the last reading (net of no-load
/// where known). Tolerance: the smaller of those the deck file sets (1 mV; 20 % of the pair's
/// mean). A pair is within when its difference is, no stand carries under a quarter of it, and none
/// is under its cell's least load.
[[nodiscard]] std::vector<Pair> judge_pairs(const deck::Deck& deck, const Evidence& evidence);

/// The same as limits for the planner.
[[nodiscard]] Goal goal_of(const deck::Deck& deck,
                           const Evidence& evidence,
                           const std::vector<Pair>& pairs);

}  // namespace weighwright::share
