#pragma once
/// The test of a site by the rulebook in force: plan, what is done of it, verdict as found and as
/// left; all of it from the journal.
///
/// As found   results that were read before the first adjustment of the visit, with the limits of
///            that occasion. As left: those after the last adjustment; older ones are stale.
/// Without an adjustment in the visit there is one set of results, as left; a broken seal alone
/// makes nothing old.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "job/plan_case.h"
#include "job/rules_standing.h"
#include "job/site_state.h"
#include "proof/verdict.h"
#include "report/page_view.h"
#include "report/proof_view.h"
#include "report/test_plan_view.h"
#include "rules/rulebook.h"

namespace weighwright::job {

struct SiteProof {
  std::optional<rules::Rulebook> rulebook;
  units::Diagnostics faults;
  RulesStanding standing;  // of the rulebook: compared with print or not
  std::optional<rules::Occasion> occasion;
  proof::DecisionRule decision = proof::DecisionRule::simple;
  std::vector<record::Weight> weights;  // a table of a later entry takes over lines of the same id
  proof::ProofCase found;               // nothing in it: there are none
  proof::ProofCase left;
  std::vector<int> lines;                    // entries that it rests on
  std::optional<report::TestPlanView> plan;  // empty: occasion or weights are not known
  std::optional<report::ProofView> verdict;  // as left; empty: nothing was tested
  /// By placement of the plan: which of the fresh results, counted from 1, was made for it; 0:
  /// none.
  std::vector<int> done_by;
  int next = -1;  // index of the first placement that is open and required; -1: none

  [[nodiscard]] bool passed() const { return verdict && verdict->outcome == "pass"; }
};

/// @pre state.deck
/// @param with_plan  and verdict; else only what the journal says
/// @param sampled    check uncertainty by Monte Carlo too (up to a second)
[[nodiscard]] SiteProof site_proof_of(const SiteState& state, bool with_plan, bool sampled = false);

/// The deck that plans and verdicts are made with. No load is too much for a cell that nobody
/// knows, and none is right: its capacity is put out of reach here, and a warning says that it is
/// not judged. @pre state.deck
[[nodiscard]] LoadedDeck judged_deck(const SiteState& state);

/// The day of an entry in its writer's local time, since 1970-01-01.
[[nodiscard]] std::int64_t day_of(const SiteState& state, int line);

}  // namespace weighwright::job
