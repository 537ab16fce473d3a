#pragma once
/// This machine's secret key, with which it signs what it records.

#include <filesystem>
#include <string>

namespace weighwright::cli {

/// 32 bytes, random, made at first use and kept as 64 hex digits in the file `key` of the folder,
/// readable by its owner only. Two programs that start at once agree on one.
/// @throws std::runtime_error when it can be neither read nor kept, or others may read it
[[nodiscard]] std::string own_key(const std::filesystem::path& folder);

}  // namespace weighwright::cli
