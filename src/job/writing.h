#pragma once
/// How a Writer's drafts get into a journal.

#include <vector>

#include "job/history.h"
#include "job/job_case.h"
#include "journal/journal.h"

namespace weighwright::job {

[[nodiscard]] journal::Identity identity_of(const Writer& writer);
[[nodiscard]] journal::Moment moment_of(const Writer& writer);

/// Records drafts. Before them, in the same transaction, an entry that names the program, where the
/// last one of this writer's own chains names another or there is none.
/// @param history  of the journal as it is; empty: nothing was recorded yet
[[nodiscard]] journal::Appended append(journal::Journal& journal,
                                       const History& history,
                                       const Writer& writer,
                                       std::vector<record::Draft> drafts);

}  // namespace weighwright::job
