#pragma once
/// `serve`: the page at the pit, until a signal ends it.

#include "cli/request.h"
#include "cli/verbs.h"

namespace weighwright::cli {

/// @return exit code: 0 after SIGINT or SIGTERM
[[nodiscard]] int run_serve(const ServeVerb& verb, Streams streams);

}  // namespace weighwright::cli
