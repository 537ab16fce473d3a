#pragma once
/// Test plan: which loads to put where, with what is at hand, by the rulebook in force.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "job/load_deck.h"
#include "proof/test_plan.h"
#include "report/test_plan_view.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct PlanCaseRequest {
  InputFile deck;
  std::optional<InputFile> weights;   // table id,nominal_kg,...
  std::optional<InputFile> rulebook;  // a variant
  std::string occasion;
  std::int64_t day = 0;  // of the test, since 1970-01-01
  bool rolling = true;
  bool extras = true;
  std::optional<std::string> axle;           // "10 t": heaviest axle that the road allows
  std::optional<std::string> repeatability;  // "6 kg": found earlier
};

struct PlanAnswer {
  std::optional<report::TestPlanView> view;  // empty when there are faults
  units::Diagnostics faults;
};

[[nodiscard]] PlanAnswer plan_case(const PlanCaseRequest& request);

/// The same from what was read already. @pre loaded.ok()
[[nodiscard]] report::TestPlanView test_plan_view(const LoadedDeck& loaded,
                                                  const rules::Rulebook& rulebook,
                                                  const proof::PlanRequest& request);

}  // namespace weighwright::job
