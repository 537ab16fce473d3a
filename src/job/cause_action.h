#pragma once
/// The step "find the cause first": what is suspected, what to measure next, how it is recorded.

#include <string>

#include "deck/deck.h"
#include "diagnose/diagnose.h"
#include "job/steps.h"

namespace weighwright::job {

/// "Likely: moisture in the cell of 2L (72 %), ..."
[[nodiscard]] std::string cause_sentence(const deck::Deck& deck,
                                         const diagnose::Diagnosis& diagnosis);
[[nodiscard]] Action find_cause_action(const deck::Deck& deck,
                                       const diagnose::Diagnosis& diagnosis);

}  // namespace weighwright::job
