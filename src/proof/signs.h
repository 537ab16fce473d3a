#pragma once
/// What results say beside pass or fail: errors that grow with the load, a repeat unlike the
/// others. Told, never acted on.
///
/// Source  weighted line: ISO/TS 28037:2010, 6 (line_fit.h). Outlier: Grubbs, NIST/SEMATECH
///         e-Handbook 1.3.5.17.1 (outlier.h).

#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

/// Findings `span_off` (a slope of the errors of increasing loads beyond twice its standard
/// uncertainty) and `outlier` (four repeats or more; three can't show one).
void tell_signs(const Evidence& evidence,
                const std::vector<JudgedLine>& lines,
                std::vector<ProofFinding>& findings);

}  // namespace weighwright::proof
