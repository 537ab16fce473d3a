#pragma once
/// What a deck file never holds and the TOML library stumbles over, found before it reads the file.

#include <optional>
#include <string>
#include <string_view>

#include "deck/reading/fault_sink.h"

namespace weighwright::deck::reading {

struct ForeignSign {
  Position at;  // column in characters
  std::string what;
  std::string expected;
};

/// The first of: bytes that are no UTF-8; a sign beyond ASCII outside quotation marks and comments
/// (TOML v1.0.0 allows none: keys, numbers and punctuation are ASCII; toml++ 3.3 has undefined
/// behaviour there); a text over several lines, in three quotation marks (TOML has them, a deck
/// file needs none; the same).
[[nodiscard]] std::optional<ForeignSign> find_foreign_sign(std::string_view text);

}  // namespace weighwright::deck::reading
