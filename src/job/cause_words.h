#pragma once
/// Names of circuit faults and of what a meter measures, as a technician says them.

#include <string>

namespace weighwright::job {

/// "an arm of the bridge is open (E+ S+)"; an unknown code is told as it is.
[[nodiscard]] std::string cause_words(const std::string& code, const std::string& detail);

/// What to do about it: "replace the cell", "dry the box, ...". Empty where nothing follows.
[[nodiscard]] std::string remedy_words(const std::string& code);

/// "the input resistance (E+ to E-)" for "input_ohm".
[[nodiscard]] std::string measured_words(const std::string& quantity);

}  // namespace weighwright::job
