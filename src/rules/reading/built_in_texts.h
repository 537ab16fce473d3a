#pragma once
/// Texts of the rulebooks that are built in (rulebooks/*.toml; packed by
/// cmake/pack_rulebooks.cmake).

#include <string_view>
#include <vector>

namespace weighwright::rules::reading {

struct BuiltInText {
  std::string_view code;  // "R76"
  std::string_view text;
};
[[nodiscard]] const std::vector<BuiltInText>& built_in_texts();

}  // namespace weighwright::rules::reading
