#pragma once
/// Runs `plan`, `prove` and `report`.

#include "cli/verbs.h"

namespace weighwright::cli {

[[nodiscard]] int run_plan(const PlanVerb& verb, Streams streams);
[[nodiscard]] int run_prove(const ProveVerb& verb, Streams streams);
[[nodiscard]] int run_report(const ReportVerb& verb, Streams streams);

}  // namespace weighwright::cli
