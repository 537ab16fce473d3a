#pragma once
/// The trims that a deck's boxes have, and what turning one does to the reading.
///
/// Effect  e_k of a trim = change of ln(reading of its own cell), counted from the trim's least
///         attenuation. With the cells' signals in parallel (Millman) a resistance rho in the
///         signal leads of cell k makes exp(e_k) = R_k / (R_k + rho), R_k its output resistance,
///         and divides everybody's reading by sum_j w_j exp(e_j), w_j = (1/R_j) / sum(1/R). A
///         resistance rho in the supply leads makes exp(e_k) = R_in / (R_in + rho) and touches
///         nobody else where the box's supply is held (six wires); so does a digital factor. Leads
///         of the cell itself add to R and R_in; they change an effect by their part of it.
/// Source  Millman's theorem (any text on linear circuits; from memory, unverified); the closed
///         forms differ from the whole network by parts in 1e7 (tests/trim against signal/circuit).

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"

namespace weighwright::trim {

enum class TrimKind { signal, excitation, digital, section };

struct Element {
  record::TrimPlace place;
  std::vector<int> stands;  // one, or the two of a section
  int box = 0;              // trims of one box are alike: a turn does the same
  TrimKind kind = TrimKind::signal;
  double cell_ohm = 0.0;  // R_out for signal, R_in for excitation; 0: no ohm applies
  double weight = 0.0;    // w_k, signal only; 0 else
  double lowest = 0.0;    // effect at its one end (most attenuation); -infinity: not known
  double highest = 0.0;   // and at its other end
  double start = 0.0;     // effect before the first move
  bool start_assumed = false;
  std::optional<double> per_turn;       // effect of one turn clockwise; empty: to be learned
  std::optional<double> size_per_turn;  // its amount where only the direction is unknown
};

/// In stand order, of all boxes; none where no box trims. A deck that names no box is taken to have
/// one with a trim for every cell (factors where the cells are digital).
[[nodiscard]] std::vector<Element> elements_of(const deck::Deck& deck);

/// "2L" or "2".
[[nodiscard]] std::string print(const record::TrimPlace& place);

/// Effect of a resistance (both leads together), and back. @pre element.cell_ohm > 0
[[nodiscard]] double effect_of_ohm(const Element& element, double ohm);
[[nodiscard]] double ohm_of_effect(const Element& element, double effect);

/// ln of what every stand's reading is multiplied by, N: own effects and the common part of signal
/// trims.
/// @param effects  one an element
[[nodiscard]] Eigen::VectorXd log_factors(const std::vector<Element>& elements,
                                          const Eigen::VectorXd& effects,
                                          int stands);

}  // namespace weighwright::trim
