#pragma once
/// On which day results were taken: the date of performance of a test.
///
/// Rule  the day of a line's own time, as the clock at the place showed it, whatever its offset
/// from
///       UTC. A line without a time stands beside others of its file: it has the day of the last
///       one above it that has a time, else of the first one below. In a file with no times at all
///       every line has the day that is said of the file: when it was typed into the journal, or
///       what
///       `--date` says. The day on which a paper is printed is never taken.

#include <cstdint>

#include "record/measurement.h"

namespace weighwright::record {

/// Fills `day` of every reading.
/// @param otherwise  days since 1970-01-01, where no line of the set has a time
void give_days(ProofSet& set, std::int64_t otherwise);

/// Of one reading: as given, else of its time, else the other.
[[nodiscard]] std::int64_t day_of(const ProofReading& reading, std::int64_t otherwise);

}  // namespace weighwright::record
