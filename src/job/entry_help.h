#pragma once
/// The kinds of entries and their fields, for a help text.

#include <string>

namespace weighwright::job {

/// "  occasion   occasion [decision load_over remark]", a line each.
[[nodiscard]] std::string entry_help();

}  // namespace weighwright::job
