#pragma once
/// A whole job on a practice site with a fault: is anything adjusted while the fault is open?
///
/// Job      what a technician does: as-left readings of an installation (or none), then a visit in
///          which tables come in one by one; after each the journal is folded and the next action
///          looked at, as `job next` does. Then up to three of the measurements that it asks for.
/// Advised  the next action holds screws, shims, trims or a span to be set.
/// Twin     the same site, seed, weather and questions without the fault.
/// Harmful  an adjustment is advised that answers to a reading which the fault truly changed
///          (trial.h), where, at the same point of the job, the twin gets none of that kind. On a
///          new deck with screws a hanging bearing or low stand is mended by turning them.

#include <cstdint>
#include <string>
#include <vector>

#include "job/load_deck.h"

namespace weighwright::bench {

enum class JobKind {
  service,          // left right, then the fault struck; nobody knows
  service_unknown,  // the same, but nothing was kept of how it was left
  sharing,          // a new deck, screws, the fault is there from the start
  trimming          // a new deck, levelled and fixed, corners and span not adjusted yet
};

struct JobTrial {
  bool struck = false;  // the fault fits the deck
  int points = 0;       // of the job at which the next action was looked at
  int advised = 0;      // at which an adjustment was advised
  int harmful = 0;      // and the twin got none of that kind
  int twin_advised = 0;
  std::string first_harm;    // which kind, after which table
  bool named_first = false;  // at the end the fault is the most probable cause, or in its class
};

/// @param code  of the catalogue; empty: nothing is wrong (then advised is what it is)
[[nodiscard]] JobTrial try_job(const job::InputFile& deck,
                               const std::string& code,
                               JobKind kind,
                               std::uint64_t seed);

}  // namespace weighwright::bench
