#pragma once
/// `job`: reads files, calls job, prints. No logic.

#include "cli/job_request.h"
#include "cli/verbs.h"

namespace weighwright::cli {

[[nodiscard]] int run_job(const JobVerb& verb, Streams streams);

}  // namespace weighwright::cli
