#pragma once
/// What somebody claims, and what the journal says against it, before it is recorded.
///
/// A fact is always recorded: grout that was placed, a load that stood there. A claim opens the way
/// for what can hurt (grout over an unproven balance, a load on fresh grout) or closes a job; it is
/// refused where it contradicts what is on record, with everything that it lacks.

#include <string>
#include <vector>

#include "job/job_case.h"
#include "job/site_state.h"
#include "record/entry.h"
#include "units/diagnostic.h"

namespace weighwright::diagnose {
struct MeterMemory;
}

namespace weighwright::job {

/// A clearance for grout, a release for load, the tick that the scale was handed over.
[[nodiscard]] bool is_claim(const record::Draft& draft);

/// @param kept    entries in the total order
/// @param drafts  what is to be recorded, in order; `corrects` are hashes. The claims are judged by
///                the journal as the other drafts make it
/// @param memory  as advise_site takes it
[[nodiscard]] units::Diagnostics claim_faults(const std::vector<Kept>& kept,
                                              const std::vector<record::Draft>& drafts,
                                              const Writer& writer,
                                              diagnose::MeterMemory* memory);

/// The draft with something in every field that it needs: what is missing of a claim is told with
/// the rest of what it lacks.
[[nodiscard]] record::Draft with_needed(record::Draft draft);

}  // namespace weighwright::job
