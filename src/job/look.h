#pragma once
/// A journal looked at: what it says, what follows, and the view of it.

#include <string>

#include "job/site_advice.h"
#include "job/site_state.h"
#include "job/steps.h"
#include "journal/journal.h"
#include "report/job_view.h"

namespace weighwright::job {

struct Looked {
  SiteState state;
  SiteAdvice advice;
  Progress progress;
  report::JobView view;
};

/// What the journal says, without advice: steps, next action and what is behind it stay empty.
[[nodiscard]] Looked look_at_record(journal::Journal& journal,
                                    const std::string& path,
                                    bool with_entries);

/// @param path  as the job is called in what is to be typed next
/// @param with_entries  every entry in words too
/// @param memory  as advise_site takes it
[[nodiscard]] Looked look_at(journal::Journal& journal,
                             const std::string& path,
                             bool with_entries,
                             diagnose::MeterMemory* memory = nullptr);

}  // namespace weighwright::job
