#pragma once
/// Rulebooks from text (TOML), and the two that are built in.
///
/// A variant says `base = "R76"` and only what differs: tables are merged key by key, a class or a
/// test of the same name is changed in the keys that are given, lists are replaced. Whatever number
/// it changes needs a clause of its own. Layout: docs/rulebooks.md.

#include <optional>
#include <string>
#include <string_view>

#include "rules/rulebook.h"
#include "units/diagnostic.h"

namespace weighwright::rules {

struct ReadRulebook {
  std::optional<Rulebook> rulebook;  // empty when there are faults
  units::Diagnostics faults;
};

/// "R76" or "H44". @pre one of these
[[nodiscard]] const Rulebook& built_in(std::string_view code);
/// Its text, as shipped.
[[nodiscard]] std::string_view built_in_text(std::string_view code);

/// The same, read anew: faults of a shipped text are seen by a test.
[[nodiscard]] ReadRulebook read_shipped(std::string_view code);

/// A user's: a variant of a built-in one, or a whole one of its own. Never throws on any bytes.
/// @param file  its name, for messages
[[nodiscard]] ReadRulebook read_rulebook(std::string_view text, const std::string& file);

}  // namespace weighwright::rules
