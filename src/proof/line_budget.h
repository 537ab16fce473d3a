#pragma once
/// The uncertainty of one error: every term that contributes.
///
/// Source  EURAMET cg-18 v4.0, 7.1 (from memory, unverified), its pieces sourced in budget.h.
/// Terms   resolution_load, resolution_zero (of a strain test: of the reading before), or
///         zero_not_read where there is none; repeatability; eccentricity (loads on the deck as a
///         whole); weights, weights_drift, buoyancy; substitution (rounding, and repeatability).
/// Strain  only the known load, and two readings; so too where more substitutes lie there than the
///         rulebook allows (substitute_strain.h).
/// Air     of weights whose density is stated, in known air: |(ra - 1.2)(1/r - 1/8000)| as a half
///         width; nothing is corrected.
/// Shared  every repeatability rests on one estimate: number 1.
/// Convection  has no term: standards of M classes that stand on a deck out of doors are near the
///         air's temperature, and what air currents do to a tonne is grams, where the display
///         counts kilograms (cg-18, 7.1.2.5; from memory, unverified).

#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

/// Width of the step that zero, or the start of a strain test, is known to, kg; empty: not read.
[[nodiscard]] std::optional<double> zero_step_kg(const Evidence& evidence, const Row& row);

/// How far zero may be off where nobody looked, half width, kg: as far as the rulebook lets it be
/// set, and no less than a look at the display would leave open.
[[nodiscard]] double unread_zero_kg(const Evidence& evidence);

/// Is the load spread on the deck as a whole, so that its place is not part of the test?
[[nodiscard]] bool stands_anywhere(rules::Check check);

/// Relative standard uncertainty of the standards by buoyancy.
[[nodiscard]] double buoyancy_of(const Evidence& evidence, const Known& load);

/// @pre row.load
[[nodiscard]] std::vector<Term> terms_of(const Evidence& evidence, const Row& row);

/// Of a load by its substitutes, standard uncertainty, kg.
[[nodiscard]] double u_substitution_kg(const Evidence& evidence, const Known& load);

}  // namespace weighwright::proof
