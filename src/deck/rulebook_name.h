#pragma once
/// Names of rulebooks and of their accuracy classes, as people write them.

#include <optional>
#include <string>
#include <string_view>

namespace weighwright::deck {

/// "R76", "R 76", "OIML R 76" -> "R76"; "H44", "HB 44" -> "H44". Empty when it is neither.
[[nodiscard]] std::optional<std::string> parse_rulebook(std::string_view text);

/// A class for road vehicles of a rulebook ("R76" or "H44"), spaces as they come ("IIIL" -> "III
/// L"). Empty when the rulebook has no such class.
///
/// Source  OIML R 76-1:2006, clause 3.2 (III, IIII); NIST Handbook 44, section 2.20, table 7a (III
/// L,
///         III).
[[nodiscard]] std::optional<std::string> parse_class(std::string_view rulebook,
                                                     std::string_view text);

/// The classes of a rulebook, quoted: "\"III\" or \"IIII\"".
[[nodiscard]] std::string classes_of(std::string_view rulebook);

}  // namespace weighwright::deck
