#pragma once
/// Faults, looks and what not to touch, in a technician's words. Habits and remedies: common
/// practice, no source.

#include <string>
#include <vector>

#include "deck/deck.h"
#include "diagnose/diagnose.h"

namespace weighwright::job {

/// "moisture in the cell of 2L, its gland or lead"; of an innocent cause "nothing is wrong".
[[nodiscard]] std::string cause_name(const deck::Deck& deck,
                                     const std::string& code,
                                     const std::string& where);
/// The same without what follows a colon.
[[nodiscard]] std::string cause_short_name(const deck::Deck& deck,
                                           const std::string& code,
                                           const std::string& where);
/// What mends it; empty where nothing has to be mended.
[[nodiscard]] std::string cause_remedy(const std::string& code);
/// How to measure or look.
[[nodiscard]] std::string next_instruction(const deck::Deck& deck, const diagnose::Next& next);
/// What each of the two causes would show.
[[nodiscard]] std::string next_shows(const deck::Deck& deck, const diagnose::Next& next);
/// Where the measurement can hurt.
[[nodiscard]] std::vector<std::string> next_dangers(const diagnose::Next& next);
/// "the span: ..."
[[nodiscard]] std::string leave_sentence(const deck::Deck& deck, const diagnose::DoNotTouch& one);
[[nodiscard]] std::string adjustment_code(diagnose::Adjustment adjustment);
/// "joint A-B, right bearing", "end 1", "module B", "2L".
[[nodiscard]] std::string place_words(const deck::Deck& deck, const std::string& where);

}  // namespace weighwright::job
