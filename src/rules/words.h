#pragma once
/// Numbers as the reasons of this floor say them.

#include <string>

namespace weighwright::rules {

/// At most six decimals, no trailing zeros, never an exponent: "60000", "0.2".
[[nodiscard]] std::string number_words(double value);
/// "5000 kg" or "10000 lb".
[[nodiscard]] std::string mass_words(double kg, bool us);
/// "12.5 %", or "1/3" where the percentage has no end.
[[nodiscard]] std::string share_words(double share);

}  // namespace weighwright::rules
