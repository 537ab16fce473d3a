#pragma once
/// Whether a firm compared the rulebook in force with its own print of it, and what papers say of
/// that.
///
/// The numbers of a rulebook were typed from what could be read of it, some from memory. Only who
/// has the printed edition can say that they are right: a check list is printed (rules_view.h),
/// ticked, and kept as an entry `rules_confirmed`, which holds for exactly that text of the
/// rulebook (its hash).

#include <optional>
#include <string>

#include "job/site_state.h"

namespace weighwright::job {

struct RulesConfirmation {
  int line = -1;  // entry, in History::lines
  std::string by;
  std::string print;    // which edition or printing
  std::string date;     // as typed; empty: the day of the entry
  std::string clauses;  // as typed
  std::string remark;
  bool practice = false;  // of a practice site: nobody compared anything
};

struct RulesStanding {
  std::string hash;                            // of the rulebook in force
  std::optional<RulesConfirmation> confirmed;  // of that text
  std::optional<int> another;  // line of a confirmation that is of another text, where none holds
};

/// @param hash  of the rulebook in force (rules_hash)
[[nodiscard]] RulesStanding rules_standing_of(const SiteState& state, std::string hash);

/// "The rulebook's numbers were compared with print by ..., 2026-11-20: ... (entry 12)." or that
/// nobody did.
[[nodiscard]] std::string standing_words(const RulesStanding& standing);

/// The full hash that a typed one means: blanks are left out, at least 12 of its first digits
/// serve. Empty: it is none of `hash`.
[[nodiscard]] std::string meant_hash(const std::string& typed, const std::string& hash);

}  // namespace weighwright::job
