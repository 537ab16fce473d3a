#pragma once
/// Options of `plan`, `prove` and `report`.

#include "cli/request.h"

namespace CLI {
class App;
}

namespace weighwright::cli {

void add_plan(CLI::App& app, PlanVerb& filled);
void add_prove(CLI::App& app, ProveVerb& filled);
void add_report(CLI::App& app, ReportVerb& filled);

}  // namespace weighwright::cli
