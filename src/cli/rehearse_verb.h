#pragma once
/// `rehearse`: a practice site talked to by lines, or kept in a file and asked once.

#include "cli/request.h"
#include "cli/verbs.h"

namespace weighwright::cli {

/// @return exit code
[[nodiscard]] int run_rehearse(const RehearseVerb& verb, Streams streams);

}  // namespace weighwright::cli
