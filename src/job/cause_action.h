#pragma once
/// The step "find the cause first" in words: what is suspected, what to measure next, how.

#include <string>
#include <vector>

#include "deck/deck.h"
#include "diagnose/diagnose.h"

namespace weighwright::job {

/// "The cell under 2L: moisture (72 %), or ..."
[[nodiscard]] std::string cause_sentence(const diagnose::Diagnosis& diagnosis);
/// "Look at 2L: is there water ...?"
[[nodiscard]] std::string next_headline(const diagnose::Next& next);
/// How to do it, and what it tells apart.
[[nodiscard]] std::string next_sentence(const diagnose::Next& next);
[[nodiscard]] std::vector<std::string> next_cautions(const diagnose::Next& next);

}  // namespace weighwright::job
