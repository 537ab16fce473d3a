#pragma once
/// Two copies of one journal that were worked on apart: the union of their entries, by hash.
/// Nothing is dropped or changed, whichever way round; merging again changes nothing.

#include <cstdint>
#include <string>
#include <vector>

#include "journal/journal.h"

namespace weighwright::journal {

struct Merged {
  std::int64_t came = 0;         // entries that were not there before
  std::int64_t attachments = 0;  // likewise
  std::vector<Problem> forks;    // of the whole journal afterwards
  std::vector<Problem> left;     // entries of `from` that are damaged and stay where they are
  units::Diagnostics faults;     // when nothing was merged
};

/// Brings what `from` has into `into`, in one transaction. Throws StorageFailure.
[[nodiscard]] Merged merge(Journal& into, Journal& from);

}  // namespace weighwright::journal
