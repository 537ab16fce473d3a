#pragma once
/// Ways to adjust the corners of one and the same site.
///
/// Weight move  the load is set down somewhere: over another place, or at the same place again.
/// Round        one full reading of the places and one setting of trims (one time round the deck,
///              for the habits).
/// Reached      the true spread over the places (no noise, no rounding, load exactly there) is
///              within e. Only the referee knows; players go by what they read.

#include <Eigen/Core>
#include <cstdint>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"
#include "rehearsal/corners.h"
#include "statics/model.h"

namespace weighwright::bench {

struct CornerGame {
  const deck::Deck* deck = nullptr;  // as described
  const statics::Model* model = nullptr;
  rehearsal::CornerSpread spread;
  std::vector<record::LoadPlace> places;  // of a full reading, one a stand, in stand order
  double load_kg = 0.0;
  rehearsal::Look look = rehearsal::Look::display;
  std::uint64_t seed = 0;
  int most_rounds = 8;
};

/// One job of one player.
struct CornerScore {
  bool reached = false;       // at the end of a round
  int rounds = 0;             // settings of trims until the player stopped
  int rounds_reached = 0;     // until it was reached
  int moves = 0;              // weight moves until it was reached
  bool after_one = false;     // true spread within e after the first round
  double spread_kg = 0.0;     // true, when the player stopped
  int learnt = 0;             // moves that served to learn what a turn does
  bool content = false;       // the player stopped since all places agreed as read
  int stopped_moves = 0;      // weight moves until the player stopped
  bool content_true = false;  // and they truly did
};

/// What only the tool tells.
struct ToolScore : CornerScore {
  std::vector<double> told;            // chance of being within that was told with each setting
  std::vector<bool> came;              // whether it then was
  bool adjusts = false;                // trims were set in the first round
  std::vector<std::string> held_back;  // causes named instead of settings
};

/// Weighwright: trim::advise on all readings so far.
[[nodiscard]] ToolScore play_corner_tool(const CornerGame& game);
/// Drives to a corner, turns until it shows what the reference corner showed (the first, or the
/// lowest where the box only attenuates), next corner; round again until all agree as read. Knows
/// which way to turn.
[[nodiscard]] CornerScore play_one_corner_at_a_time(const CornerGame& game);
/// Left against right of every section, then section against section with the load on their
/// middles, then every place once to prove it.
[[nodiscard]] CornerScore play_pairs_then_sections(const CornerGame& game);
/// True gains known, every trim brought exactly where it should stand; one full reading proves it.
[[nodiscard]] CornerScore play_corner_knowing(const CornerGame& game);
/// Plain least squares on the tool's first full reading, with the true shares of the named places,
/// applied exactly. Not a player: nobody has the true statics or exact trims.
[[nodiscard]] bool ideal_least_squares_within(const CornerGame& game);

}  // namespace weighwright::bench
