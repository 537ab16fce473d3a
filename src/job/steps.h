#pragma once
/// Where a job stands: a graph of steps with what each needs, what is done, open and blocked, and
/// the one thing to do next.
///
/// Steps  by kind of deck and by how the job began: a new deck goes through all of them, a service
///        call begins with what is found. Order and preconditions: common practice, no source.
/// Hard   no grout before the balance is cleared for it; no load on a deck that is not released, no
///        vehicle without stops; no screw once it is grouted; no screw, shim, trim or span while a
///        fault that changes what they answer to is open.
/// Done   a step is shown as done on grounds that prove it; what a tick goes past stays owed.

#include <string>
#include <vector>

#include "job/site_advice.h"
#include "job/site_state.h"

namespace weighwright::job {

enum class StepState { done, open, blocked, not_needed };

struct Step {
  std::string code;  // "share"
  std::string name;  // "Dead-load balance"
  StepState state = StepState::open;
  std::string why;         // a sentence: what is open, or what blocks it
  std::vector<int> lines;  // entries that say so
};

enum class Detail { none, share, trim, span, diagnosis };

/// The one next thing to do.
struct Action {
  std::string step;
  std::string code;                   // what kind of thing it is: "read_cells" (docs/page-api.md)
  std::vector<std::string> names;     // ticks, or sentences of what is to be read
  std::string place;                  // where a load is to stand; empty: everywhere
  std::string headline;               // a few words
  std::vector<std::string> how;       // in order
  std::vector<std::string> cautions;  // where it can hurt
  std::string then_type;              // command that records it; JOB stands for the file
  Detail detail = Detail::none;       // whose answer belongs to it
  bool remark_needed = false;         // of a tick: something is to be named with it
  std::vector<int> lines;             // entries that led to it
};

/// Something that a scale is not handed over without naming.
struct LeftOpen {
  std::string code;  // of the step; "seals"
  std::string name;  // "Corner adjustment"
};

struct Progress {
  std::vector<Step> steps;
  Action next;
  std::vector<LeftOpen> left_open;  // in order; empty: nothing
};

/// "Corner adjustment; Span".
[[nodiscard]] std::string names_of(const std::vector<LeftOpen>& list);

/// "Handed over with these left open: Span; Test. No weights came." Empty: nothing is, or it was
/// not handed over.
[[nodiscard]] std::string handed_over_open(const SiteState& state, const Progress& progress);

/// @pre advice is that of the state; without a readable deck the only step is to describe it
[[nodiscard]] Progress progress_of(const SiteState& state, const SiteAdvice& advice);

/// Stands whose reading moved when the restraints were set, by more than noise; needs a reading
/// before and one after.
[[nodiscard]] std::vector<units::StandIndex> moved_by_restraints(const SiteState& state);

}  // namespace weighwright::job
