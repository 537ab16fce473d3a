#pragma once
/// Entries that their device did not write. Values only.
///
/// Rule  The first signed entry of a chain fixes its key. Every later entry of that chain is signed
///       with it; one that is not signed, is signed with another key, or whose signature does not
///       fit is forged. Entries before the first signed one are unsigned: a version before
///       signatures wrote them, and nothing says by whom.

#include <vector>

#include "journal/journal.h"

namespace weighwright::journal {

enum class Signatures {
  /// The first of a chain and its end: as each entry names the one before it by hash, a signature
  /// that fits vouches for all before it. Cheap; for opening.
  ends,
  every
};

/// Marks forged entries: not intact, problem_kind forged, and what gives them away.
void mark_forged(std::vector<LoadedEntry>& entries, Signatures signatures);

}  // namespace weighwright::journal
