#pragma once
/// A variant laid over its base: tables key by key, everything else replaced.

#include "rules/reading/faults.h"
#include "rules/reading/tree.h"

namespace weighwright::rules::reading {

/// A number and its source belong together: where a variant changes anything in a table that has a
/// clause, it has to give a clause of its own (and then a basis), which takes the place of the
/// base's. Words (name, says, when, remark) are free.
[[nodiscard]] Node merge(const Node& base, const Node& variant, Faults& faults);

}  // namespace weighwright::rules::reading
