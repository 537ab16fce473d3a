#pragma once
/// The checks of the indicator that need no load: tare, displays and printer, the range of zero,
/// the greatest indication; and which tests were no part of this one.
///
/// Tare     what is indicated after the tare balance, before rounding, against its accuracy.
/// Displays what one shows less what the other shows or prints, at one load.
/// Zero     what zero setting covers in all, from the set-up or found.
/// Greatest the greatest value that is shown, from the set-up or with a signal simulator. Nobody is
///          asked to load a deck above its Max.
/// None of them is required. One that no result answers is said to be no part of the test.

#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

/// Rows of the indicator's own checks only, fresh and usable ones.
[[nodiscard]] std::vector<JudgedCheck> judge_indicator(const Evidence& evidence,
                                                       const std::vector<Row>& rows,
                                                       std::vector<ProofFinding>& findings);

/// Whether a result answers a check; one that rounding decides does not.
[[nodiscard]] bool is_answered(const Verdict& judged, rules::Check check);

/// Tests of the rulebook that nothing answers and that are not asked on this occasion.
[[nodiscard]] std::vector<NotPart> not_part_of(const Evidence& evidence, const Verdict& judged);

}  // namespace weighwright::proof
