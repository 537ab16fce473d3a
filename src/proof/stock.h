#pragma once
/// What is at hand for a test, in kinds of pieces, and what it costs to move them.
///
/// Pieces  weights of one nominal value, handling and state are one type: which of them is taken
///         does not matter for a plan, and its ids are dealt out in the order of the file.
/// Cost    a change of what stands on the deck costs, for every kind of handling that moves
///         something, its placement minutes once and its piece minutes for each piece lifted. A
///         piece that changes its place is lifted once; what stands on wheels rolls without being
///         lifted.

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "deck/deck.h"
#include "proof/test_plan.h"

namespace weighwright::proof {

inline constexpr int kHandlings = 5;

struct PieceType {
  double kg = 0.0;  // of one, > 0
  int count = 0;
  record::Handling handling = record::Handling::hand;
  bool known = true;                             // may serve as a standard
  double along_m = 0.0;                          // footprint of one; 0: not stated
  double across_m = 0.0;                         // 0: not stated
  double axle_kg = 0.0;                          // heaviest axle; 0: not stated
  std::vector<std::pair<std::string, int>> ids;  // with their counts, in the order of the file

  [[nodiscard]] bool rolls() const {
    return handling == record::Handling::cart || handling == record::Handling::vehicle;
  }
};

using Stock = std::vector<PieceType>;
using Pieces = std::vector<int>;  // taken of each type of the stock
using Kinds = unsigned;           // bit k: Handling k

[[nodiscard]] inline Kinds bit(record::Handling handling) {
  return 1U << static_cast<unsigned>(handling);
}

/// Stock of the request and what is said of weights that can't serve, or not as standards.
struct Stocked {
  Stock stock;
  std::vector<PlanFinding> findings;
  double standards_kg = 0.0;
};
[[nodiscard]] Stocked stock_of(const deck::Deck& deck, const PlanRequest& request);

[[nodiscard]] double kg_of(const Stock& stock, const Pieces& pieces);
[[nodiscard]] Kinds kinds_of(const Stock& stock, const Pieces& pieces);
[[nodiscard]] std::vector<Taken> taken_of(const Stock& stock, const Pieces& pieces);

/// Minutes to set up every kind of a set once.
[[nodiscard]] double set_up_minutes(Kinds kinds);
/// Placement minutes of every kind of a set.
[[nodiscard]] double placement_minutes(Kinds kinds);
/// Minutes to lift all of these once (no placement).
[[nodiscard]] double lift_minutes(const Stock& stock, const Pieces& pieces);

struct Change {
  double minutes = 0.0;
  Kinds kinds = 0;  // that moved something
};
/// From what stands on the deck to what is to stand there.
/// @param moved  the new load stands elsewhere
[[nodiscard]] Change change_of(const Stock& stock,
                               const Pieces& from,
                               const Pieces& to,
                               bool moved);

}  // namespace weighwright::proof
