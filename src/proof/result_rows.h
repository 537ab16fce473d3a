#pragma once
/// Tables of results to rows in the order in which they were taken.

#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

/// A row whose check is none of the codes is left out, with a finding. Sets before the first fresh
/// one are stale where the results are to be as left.
[[nodiscard]] std::vector<Row> result_rows(const ProofCase& what,
                                           std::vector<ProofFinding>& findings);

}  // namespace weighwright::proof
