#pragma once
/// Advised moves as the table that records them when they are made as advised.

#include <string>

#include "report/share_view.h"
#include "report/trim_view.h"

namespace weighwright::job {

/// "stand,turns" or "stand,shim_mm"; empty without moves.
[[nodiscard]] std::string move_table(const report::ShareView& view);

/// "trim,turns", "trim,ohm" or "trim,factor"; empty when nothing is to be set.
[[nodiscard]] std::string move_table(const report::TrimView& view);

}  // namespace weighwright::job
