#pragma once
/// Two copies of one journal that were worked on apart: the union of their entries, by hash.
/// Nothing is dropped or changed, whichever way round; merging again changes nothing.
///
/// What does not belong comes in as little as it would by import: nothing is merged while one entry
/// is forged (forgery.h), impossible (impossible.h), or stands under a number of the device that
/// merges without its signature. An entry that this device did sign and that is not here was
/// written to a second copy (a backup that was restored, a file that was copied): it comes in, the
/// chain is closed by an entry chain_closed, and the device goes on under its next number.

#include <cstdint>
#include <string>
#include <vector>

#include "journal/journal.h"

namespace weighwright::journal {

/// The device at which something comes in, and when. Without a key nothing is its own.
struct Receiver {
  Identity identity = {};
  Moment moment = {};
};

struct Merged {
  std::int64_t came = 0;            // entries that were not there before
  std::int64_t attachments = 0;     // likewise
  std::vector<Problem> forks;       // of the whole journal afterwards
  std::vector<Problem> left;        // entries of `from` that are damaged and stay where they are
  std::vector<std::string> closed;  // numbers of the receiver whose chain is closed
  std::string goes_on_as;           // where one is: the number that it writes under from now on
  units::Diagnostics faults;        // when nothing was merged
};

/// Brings what `from` has into `into`, in one transaction. Throws StorageFailure.
[[nodiscard]] Merged merge(Journal& into, Journal& from, const Receiver& receiver = {});

}  // namespace weighwright::journal
