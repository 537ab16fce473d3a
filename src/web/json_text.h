#pragma once
/// JSON from outside: what is allowed at all, before any field is looked at. For the .cpp files
/// that read bodies.

#include <nlohmann/json_fwd.hpp>
#include <string_view>

#include "units/diagnostic.h"

namespace weighwright::web {

using Json = nlohmann::ordered_json;

/// @param json  null when there are faults
/// @return what is wrong: no JSON, no UTF-8, too deep, too many values, a key twice, a NUL
[[nodiscard]] units::Diagnostics read_json(std::string_view text, Json& json);

}  // namespace weighwright::web
