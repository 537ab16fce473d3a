#pragma once
/// What the display showed, freed of its rounding.
///
/// Rule    with small weights added until the display changes over, P = I + d/2 - added
///         (OIML R 76-1:2006, A.4.4.3; limits are in e, rounding is in d). Where d is not above e/5
///         the indication is fine enough as it is.
/// Step    of the small weights: 0.1 d, usual.

#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

/// P = I + d/2 - added, kg.
[[nodiscard]] double before_rounding_kg(double indication_kg, double division_kg, double added_kg);

/// Fills `shown` of every row. Small weights outside 0 to d make a row unusable, with a finding.
void read_indications(Evidence& evidence, std::vector<ProofFinding>& findings);

}  // namespace weighwright::proof
