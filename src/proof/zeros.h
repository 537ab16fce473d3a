#pragma once
/// Zero: which zero error belongs to which reading, how well zero was set, and whether it came back
/// after each unloading.
///
/// Rule    E0 is taken off the error of every load (OIML R 76-1:2006, A.4.4.3); where zero tracking
///         would hide it, it is found under a small load of about 10 e (A.4.2.3.2; both from
///         memory, unverified). A display of 0 is not E0 = 0: its rounding stays in the budget.
///         How well zero is set is judged before rounding where the rulebook asks for that: a
///         display of 0 in steps of e says nothing about 0.25 e (R 76-1:2006, 4.5.2).
///         Between two zeros with no load between them nothing is judged: that is temperature.
/// Off     a zero more than one e off, or one that went so far with no load between, is never taken
///         off an error: the load is not judged (zero_off; the one e is common practice, no
///         source).

#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

struct JudgedZeros {
  std::vector<JudgedZero> zeros;
  std::vector<int> no_zero_after;  // rows: the last load of a table, no zero read afterwards
};

/// Fills `zero` of every loaded row and judges settings and returns of fresh rows.
[[nodiscard]] JudgedZeros read_zeros(Evidence& evidence, std::vector<ProofFinding>& findings);

}  // namespace weighwright::proof
