#pragma once
/// Whether the clock of the machine that writes can be believed: entries carry its time, and papers
/// the day of it.

#include <optional>
#include <string>

#include "job/history.h"
#include "job/job_case.h"
#include "units/diagnostic.h"

namespace weighwright::job {

/// A time that no journal is written at: after 2199. Nothing is recorded under it, for every entry
/// after it would seem to be older. (A clock that fell back is told by clock_jump.)
[[nodiscard]] std::optional<units::Diagnostic> clock_fault(const Writer& writer);

/// A sentence when the clock says a time more than a year away from the newest entry of this device
/// (or, where it wrote none yet, of the journal): a clock that jumped, or a visit after years. It
/// is recorded all the same.
[[nodiscard]] std::optional<std::string> clock_jump(const History& history, const Writer& writer);

}  // namespace weighwright::job
