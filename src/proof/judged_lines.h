#pragma once
/// Errors of single results against their limits, and small loads that must move the display.

#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

struct JudgedLines {
  std::vector<JudgedLine> lines;
  std::vector<int> row_of_line;
  std::vector<JudgedStep> steps;
};

/// @pre loads are weighed, repeats and eccentricity known
[[nodiscard]] JudgedLines judge_lines(const Evidence& evidence,
                                      std::vector<ProofFinding>& findings);

/// The line was read and, with or without a verdict, belongs to a test that was made.
[[nodiscard]] bool counts_as_made(const JudgedLine& line);

/// 1: errors are all positive and one is beyond the rulebook's share of its limit; -1: negative;
/// 0: neither.
[[nodiscard]] int lean_of(const rules::Rulebook& rulebook, const std::vector<JudgedLine>& lines);

/// The worst difference of two increasing loads; empty: fewer than two.
[[nodiscard]] std::optional<NetError> net_error_of(const Evidence& evidence,
                                                   const std::vector<JudgedLine>& lines);

}  // namespace weighwright::proof
