#pragma once
/// Entries, conflicts and times of a journal in words.

#include <cstdint>
#include <string>

#include "job/site_state.h"
#include "report/job_view.h"

namespace weighwright::job {

/// "2026-11-25 19:30:05 +01:00"; UTC when offset_min is 0 and `utc`: "2026-11-25T18:30:05Z".
[[nodiscard]] std::string print_local(std::int64_t time_ms, int offset_min);
[[nodiscard]] std::string print_utc(std::int64_t time_ms);

[[nodiscard]] report::EntryView entry_view(const SiteState& state, int line);
[[nodiscard]] report::ConflictView conflict_view(const Conflict& conflict);

/// What a measurement holds: "8 cells read", "2 stands turned".
[[nodiscard]] std::string measurement_words(const record::Measurement& what);

}  // namespace weighwright::job
