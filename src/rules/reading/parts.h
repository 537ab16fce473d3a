#pragma once
/// The parts of a rulebook file, each read from the root by its own file.

#include "rules/reading/table.h"
#include "rules/rulebook.h"

namespace weighwright::rules::reading {

void read_classes(Table& root, Rulebook& rulebook);    // [class.*]
void read_occasions(Table& root, Rulebook& rulebook);  // [occasion.*]
void read_tests(Table& root, Rulebook& rulebook);      // [test.*]
/// [zero], [eccentric], [rolling], [section], [increasing], [decreasing], [repeatability],
/// [discrimination].
void read_loads(Table& root, Rulebook& rulebook);
void read_standards(Table& root, Rulebook& rulebook);  // [standards]
/// [rounding], [interval_series], [capacity], [errors].
void read_capacity(Table& root, Rulebook& rulebook);

}  // namespace weighwright::rules::reading
