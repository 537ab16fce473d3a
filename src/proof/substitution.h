#pragma once
/// Known loads of every row: weights by their papers, and substitutes by what they repeated.
///
/// Rule    material takes the place of weights until the display shows about the same; it is worth
///         L_sub = P_sub - E, P_sub its indication before rounding, E the error found at the known
///         load (OIML R 76-1:2006, 3.7.3; from memory, unverified). All digits are carried, zero is
///         not set anew in between, the error found is carried forward.
/// Sure    u2(L_n) = n2 u2(m) + 2 sum u2(I_j): the same weights n times, added linearly, and two
///         readings for each substitution, each with its rounding and repeatability (EURAMET cg-18
///         v4.0, 4.3.3 and 7.1.2.6; from memory, unverified). Kept as coefficients of readings.

#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

/// Fills `load` and `fixes` of every loaded row, and `substitutes`.
/// @pre shown and zero of the rows are read
void weigh_loads(Evidence& evidence, std::vector<ProofFinding>& findings);

/// "m1+m2" -> m1, m2.
[[nodiscard]] std::vector<std::string> names_of_materials(const std::string& material);

}  // namespace weighwright::proof
