#pragma once
/// What names this very build of the program: the identification that the linker gave it.

#include <string>

namespace weighwright::cli {

/// Hex digits of the note NT_GNU_BUILD_ID of the running program (a hash of what it was linked
/// from); "not known" where it was linked without one.
[[nodiscard]] std::string build_id();

}  // namespace weighwright::cli
