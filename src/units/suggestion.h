#pragma once
/// "Did you mean ...?": the known word nearest to a mistyped one.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace weighwright::units {

/// The candidate with the fewest single-letter changes (Levenshtein distance, upper and lower case
/// alike); empty when none is within a third of the word's length plus one. Words longer than 64
/// letters are never near anything.
[[nodiscard]] std::optional<std::string> nearest(std::string_view word,
                                                 std::span<const std::string_view> candidates);

/// "a", "a or b", "a, b or c".
[[nodiscard]] std::string either(std::span<const std::string> words);

}  // namespace weighwright::units
