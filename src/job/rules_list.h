#pragma once
/// A rulebook as a check list for whoever has its printed edition.

#include <optional>
#include <string>

#include "job/load_deck.h"
#include "job/rules_standing.h"
#include "report/rules_view.h"
#include "rules/rulebook.h"

namespace weighwright::job {

/// The whole rulebook: what is ticked and confirmed.
[[nodiscard]] report::RulesView rules_list(const rules::Rulebook& rulebook,
                                           const RulesStanding& standing);

/// What a test of a scale of this class on this occasion can rest on: numbers of other classes and
/// other occasions are left out.
/// @param unread  without those that were read in the document itself
[[nodiscard]] report::RulesView rules_of_test(const rules::Rulebook& rulebook,
                                              const RulesStanding& standing,
                                              const std::string& accuracy_class,
                                              std::optional<rules::Occasion> occasion,
                                              bool unread);

/// What a number of a rulebook is, by its name in the file ("class.III.steps[1].limit"); empty: not
/// known.
[[nodiscard]] std::string number_says(const rules::Rulebook& rulebook, const std::string& name);

struct RulesListAnswer {
  std::optional<report::RulesView> view;  // empty when there are faults
  units::Diagnostics faults;
};
/// Of the deck's rulebook, or of a variant of it.
[[nodiscard]] RulesListAnswer rules_list_case(const InputFile& deck,
                                              const std::optional<InputFile>& variant);

}  // namespace weighwright::job
