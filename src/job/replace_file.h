#pragma once
/// Writes a file whole or not at all: a new one beside it, forced to the disk, then renamed over
/// it.

#include <string>

namespace weighwright::job {

/// @return empty, or why it could not be done (the old file is as it was)
[[nodiscard]] std::string replace_file(const std::string& path, const std::string& text);

}  // namespace weighwright::job
