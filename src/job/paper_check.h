#pragma once
/// Whether a file is a paper that a record wrote.

#include <optional>
#include <string>

#include "job/history.h"
#include "job/job_case.h"
#include "report/job_view.h"

namespace weighwright::job {

/// The last entry report_written of the file with this hash (BLAKE2b-256, 64 hex digits); null:
/// there is none.
[[nodiscard]] const record::Entry* find_written(const History& history, const std::string& blake2b);

[[nodiscard]] report::PaperView paper_view(const History& history, const InputFile& paper);

}  // namespace weighwright::job
