#pragma once
/// Which rulebook a deck is tested by, and for which occasion.

#include <optional>
#include <string>

#include "deck/deck.h"
#include "job/load_deck.h"
#include "rules/rulebook.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct RulebookAnswer {
  std::optional<rules::Rulebook> rulebook;  // empty when there are faults
  units::Diagnostics faults;
  std::string hash;  // of its text, rules_hash
};
/// The one that is built in under the deck's rulebook, or a variant's file. The variant must change
/// the deck's rulebook, and know its class.
[[nodiscard]] RulebookAnswer rulebook_of(const deck::Deck& deck,
                                         const std::optional<InputFile>& variant);

/// BLAKE2b-256 of what a rulebook says, 64 hex digits: of the built-in text and of the variant's,
/// without lines that are comments, blank lines and blanks at the ends of lines. Whatever else
/// changes in a rulebook changes the hash.
/// @param base  "R76", "H44"; empty: the variant is a whole rulebook of its own
[[nodiscard]] std::string rules_hash(const std::string& base,
                                     const std::optional<InputFile>& variant);

struct OccasionAnswer {
  std::optional<rules::Occasion> occasion;
  units::Diagnostics faults;  // not given, unknown: every occasion with its clause
};
[[nodiscard]] OccasionAnswer occasion_of(const rules::Rulebook& rulebook, const std::string& typed);

/// "placed in service: limits of the table, times 0.5 (HB 44, T.N.3.2)".
[[nodiscard]] std::string occasion_words(const rules::Rulebook& rulebook, rules::Occasion occasion);

/// "OIML R 76-1:2006", "OIML R 76-1:2006 as changed by Borvia 2024".
[[nodiscard]] std::string rulebook_title(const rules::Rulebook& rulebook);

}  // namespace weighwright::job
