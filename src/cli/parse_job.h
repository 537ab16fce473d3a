#pragma once
/// The options of `job`. Beside parse_arguments.cpp the only user of CLI11.

#include "cli/job_request.h"

namespace CLI {
class App;
}

namespace weighwright::cli {

/// @param filled  must outlive the parsing
void add_job(CLI::App& app, JobVerb& filled);

}  // namespace weighwright::cli
