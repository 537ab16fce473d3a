#pragma once
/// The test by the rulebook as a step of the job: what is asked, which placement is next, what the
/// verdict means for the job.

#include <string>
#include <vector>

#include "job/site_proof.h"
#include "job/site_state.h"
#include "job/steps.h"

namespace weighwright::job {

struct TestStep {
  StepState state = StepState::open;
  std::string why;
  std::vector<int> lines;
  Action action;  // when open
};

/// Actions  occasion, weights, test_plan (can't be made so), test (a placement), test_failed,
/// test_guarded,
///          test_incomplete
[[nodiscard]] TestStep test_step_of(const SiteState& state, const SiteProof& proof);

/// The report of a test that was passed: issued, or open with action "report".
[[nodiscard]] TestStep report_step_of(const SiteState& state, const SiteProof& proof);

}  // namespace weighwright::job
