#pragma once
/// Opening a journal and finding entries in it, for the job cases.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "job/job_case.h"
#include "job/site_state.h"
#include "journal/journal.h"

namespace weighwright::job {

/// Entries as the fold takes them.
[[nodiscard]] std::vector<Kept> kept_entries(journal::Journal& journal);
[[nodiscard]] std::vector<Kept> kept_entries(std::vector<journal::LoadedEntry> loaded_entries);

/// Nothing, if what was sent for `meant` belongs into the journal with these entries. Nothing was
/// recorded yet when it is asked.
[[nodiscard]] units::Diagnostics belongs_elsewhere(const std::optional<std::string>& meant,
                                                   const std::string& founding,
                                                   const std::string& path);

[[nodiscard]] std::vector<report::HeadView> heads_view(const std::vector<record::Head>& heads);

/// The line that a person means: its number, its name ("3f9a04c1-12") or the beginning of its hash
/// (at least six digits). A fault says why there is none.
struct FoundLine {
  std::optional<int> line;
  units::Diagnostic fault;
};
[[nodiscard]] FoundLine find_line(const History& history, const std::string& typed);

[[nodiscard]] units::Diagnostic argument_fault(std::string what, std::string expected);

/// What was recorded, shown.
[[nodiscard]] report::RecordedView recorded_view(journal::Journal& journal,
                                                 const std::vector<record::Entry>& entries);

}  // namespace weighwright::job
