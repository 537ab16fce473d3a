#pragma once
/// Words for tests by a rulebook: places, headings, what stands there.

#include <string>
#include <vector>

#include "proof/standards.h"
#include "record/measurement.h"
#include "rules/rulebook.h"

namespace weighwright::job {

/// "Increasing load", as the rulebook calls it, else a name of our own.
[[nodiscard]] std::string test_name(const rules::Rulebook& rulebook, rules::Check check);
/// "over 2L", "over section 2", "between sections 2 and 3", "at 3.50 m, 0.80 m left"; empty:
/// nowhere in particular.
[[nodiscard]] std::string place_words(const record::LoadPlace& place);
/// As a results table takes it.
[[nodiscard]] std::string place_text(const record::LoadPlace& place);
/// "to end 2"; empty.
[[nodiscard]] std::string heading_words(record::Heading heading);
/// "to_end_2"; empty.
[[nodiscard]] std::string_view heading_code(record::Heading heading);
[[nodiscard]] std::string_view handling_code(record::Handling handling);
/// "test weight cart".
[[nodiscard]] std::string handling_words(record::Handling handling);
/// "W1*3+W2".
[[nodiscard]] std::string taken_text(const std::vector<proof::Taken>& taken);

}  // namespace weighwright::job
