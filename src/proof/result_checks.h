#pragma once
/// What speaks against the results themselves: loads beyond what deck and rulebook allow, order,
/// standards that are too coarse, a scale that is none.

#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

/// Class, interval, ranges and capacity against CLC. True: the rulebook knows no such scale.
[[nodiscard]] bool check_scale(const Evidence& evidence, std::vector<ProofFinding>& findings);

/// Marks rows unusable whose figures can't be judged. @pre loads are weighed
void check_loads(Evidence& evidence, std::vector<ProofFinding>& findings);

/// Increasing loads rise, decreasing ones fall from a greater load, time does not go back.
void check_order(Evidence& evidence, std::vector<ProofFinding>& findings);

}  // namespace weighwright::proof
