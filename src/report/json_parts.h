#pragma once
/// Parts that all answers in JSON share. For the *_json.cpp files only: nothing else knows the
/// library.

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "report/answer_view.h"

namespace weighwright::report {

// Keys stay in the order in which they are written: a reader finds the verdict first.
using Json = nlohmann::ordered_json;

/// A number, or null and in `key`_reason why.
void put(Json& object, const std::string& key, double value, const char* reason);
void put(Json& object, const std::string& key, std::optional<double> value, const char* reason);

[[nodiscard]] Json text_or_null(const std::string& text);
[[nodiscard]] Json int_or_null(const std::optional<int>& value);
[[nodiscard]] Json assumed_json(const std::vector<deck::Assumed>& assumed);

/// Two blanks a level, ends with a line feed; bytes that are no UTF-8 are replaced.
[[nodiscard]] std::string print(const Json& object);

}  // namespace weighwright::report
