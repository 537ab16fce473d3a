#pragma once
/// Which journal this is, whatever its file is called: the hash of its founding entry, the first of
/// the chain that was begun when nothing was there yet.
///
/// Every copy, backup, export and merged file of one journal holds that entry, or entries that name
/// it: damage to the entry itself does not change the answer as long as one that followed it is
/// whole. Two journals do not have the same one (the hash is over device, millisecond and what was
/// recorded); a file that was copied to begin another site with is still the same journal.

#include <string>
#include <vector>

#include "journal/journal.h"

namespace weighwright::journal {

/// 64 hex digits; empty: nothing was recorded, or too much is lost to say.
/// @param entries  in any order, damaged ones among them
[[nodiscard]] std::string founding_hash(const std::vector<LoadedEntry>& entries);

/// A copy of a journal, to be compared with another.
struct Belonging {
  std::string founding;             // as founding_hash; empty: it can't be said
  std::vector<std::string> hashes;  // of its intact entries
};
[[nodiscard]] Belonging belonging_of(const std::vector<LoadedEntry>& entries);

/// Whether both are copies of one journal: by their founding entries, and where one of these can't
/// be said by an entry that both hold. What holds nothing yet belongs to every journal.
[[nodiscard]] bool are_one_journal(const Belonging& a, const Belonging& b);

}  // namespace weighwright::journal
