#pragma once
/// Whether what a display is said to have shown fits its steps.
///
/// Resolution  no coarser than the widest division of the scale, no finer than a hundred-thousandth
///             of the finest (no display of a scale resolves so far; common practice, no source):
///             else it is a slip of the pen, and what was read with it can't be judged.
/// Indication  a multiple of the resolution that is stated; a figure between is a slip of one of
/// the
///             two: it is judged as it stands, and nothing passes until it is mended. Where no
///             resolution is stated and a figure lies between the divisions of the data plate, that
///             is told: the rounding of a whole division is counted for it.

#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

/// Marks rows unusable whose resolution can't be.
void check_readings(Evidence& evidence, std::vector<ProofFinding>& findings);

}  // namespace weighwright::proof
