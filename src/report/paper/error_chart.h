#pragma once
/// Errors over load: limits as a staircase on both sides, marks, bars of the expanded uncertainty.

#include <string>

#include "report/paper/pen.h"
#include "report/paper/phrases.h"
#include "report/proof_view.h"

namespace weighwright::report {

/// Either may be nullptr, not both. As found: open diamonds; as left: full discs.
struct ChartOf {
  const ProofView* found = nullptr;
  const ProofView* left = nullptr;
  [[nodiscard]] const ProofView& first() const { return left != nullptr ? *left : *found; }
};

/// Whether there is a result or a limit to draw.
[[nodiscard]] bool can_chart(const ChartOf& what);
void draw_chart(Pen& pen, const Box& area, const ChartOf& what, const Phrases& words);

}  // namespace weighwright::report
