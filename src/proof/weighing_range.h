#pragma once
/// In which range of a scale with several a reading was made (R 76-1, T.3.2.7), and what holds
/// there.
///
/// Rule    what the results say (`range`), else: from zero the smallest range that holds the load,
///         going up the next one where it does not any more, and coming down the range that is in
///         use until zero again: an upper range keeps its e. A load just above the Max of a range,
///         by half an interval, is still in it (weights are not round; common practice, no source).
/// Any other scale has one range, and nothing here changes anything.

#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

/// Fills `range` of every row; a range that the scale does not have is told and not used.
void find_ranges(Evidence& evidence, std::vector<ProofFinding>& findings);

/// The scale as one range of it: Max and e of the range that a row was read in.
[[nodiscard]] rules::Scale scale_for(const Evidence& evidence, const Row& row);

/// Display division where so much is indicated, kg: that of the row's range.
[[nodiscard]] double division_of(const Evidence& evidence, const Row& row, double load_kg);

}  // namespace weighwright::proof
