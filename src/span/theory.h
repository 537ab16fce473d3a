#pragma once
/// What the indicator should be set to from the cells' own papers, before any weight is at hand.
///
/// Model   reading (V/V) = circuit with every cell at its share of dead load and load; the sum of
///         the forces is mass times local gravity. A load spread over the deck is taken by all
///         cells alike: the mean of their gains counts.
/// Limits  as good as the papers: cells' outputs to about 0.1 %, gravity to 0.005 % from latitude.
///         Trims as they stand at the start of the deck file.
/// Source  OIML R 60:2021 terms (rated output); circuit: signal/circuit.h.

#include <Eigen/Core>
#include <vector>

#include "deck/deck.h"

namespace weighwright::span {

struct Theory {
  double dead_V_per_V = 0.0;    // indicator's reading with the deck empty
  double per_kg_V_per_V = 0.0;  // more for each kilogram on the deck
  double span_V_per_V = 0.0;    // more at Max
  double excitation_V = 0.0;
  double gravity_ratio = 1.0;          // local over standard gravity
  std::vector<deck::Assumed> assumed;  // what the wiring had to assume
};

/// @param dead_N  forces of the dead load on every stand
[[nodiscard]] Theory theory_of(const deck::Deck& deck, const Eigen::VectorXd& dead_N);

}  // namespace weighwright::span
