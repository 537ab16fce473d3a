#pragma once
/// Options of `serve`.

#include "cli/request.h"

namespace CLI {
class App;
}

namespace weighwright::cli {

/// @param filled  must outlive the parsing
void add_serve(CLI::App& app, ServeVerb& filled);

}  // namespace weighwright::cli
