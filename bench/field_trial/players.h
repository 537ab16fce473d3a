#pragma once
/// Four ways to share the load on one and the same site.

#include <cstdint>
#include <vector>

#include "deck/deck.h"
#include "rehearsal/site.h"
#include "statics/model.h"

namespace weighwright::bench {

/// What a player may measure besides the millivolts.
enum class Knowledge { signal, gaps, survey };

struct Game {
  const deck::Deck* deck = nullptr;  // as described
  const statics::Model* model = nullptr;
  rehearsal::Spread spread;
  std::uint64_t seed = 0;
  bool no_load = true;  // no-load readings were taken
  int most_lowerings = 8;
};

struct Score {
  bool done = false;
  int lowerings = 0;         // the first one, before any reading, is not counted
  int touched = 0;           // stand-turns, summed over lowerings
  std::vector<double> told;  // probability of being done that was told before each lowering
  std::vector<bool> came;    // whether it then was
};

/// Weighwright.
[[nodiscard]] Score play_tool(const Game& game, Knowledge knowledge);
/// The same planner and the same turn error, with the true state known before every lowering.
[[nodiscard]] Score play_perfect(const Game& game);
/// Raises the lighter stand of the worst pair by half a turn, lowers, reads, again.
[[nodiscard]] Score play_habit(const Game& game);
/// Raises the lighter stand of the worst pair, scaled by what the last turn of that section did.
[[nodiscard]] Score play_hand(const Game& game);

}  // namespace weighwright::bench
