#pragma once
/// What a rulebook file never holds and the TOML library stumbles over, found before it reads the
/// file.

#include <optional>
#include <string_view>

#include "units/diagnostic.h"

namespace weighwright::rules::reading {

/// The first of: too large, zero bytes, empty, no UTF-8, a sign beyond ASCII outside quotation
/// marks and comments, a text over several lines (toml++ 3.3 has undefined behaviour at the last
/// two). Without the name of the file.
[[nodiscard]] std::optional<units::Diagnostic> find_unfit(std::string_view text);

}  // namespace weighwright::rules::reading
