#pragma once
/// Every entry of a journal and what became of it: corrected, undone, contradicted. No deck yet.
///
/// Rules  Entries stand in their total order (record::before). An undo takes back an entry, another
///        undo takes back the undo. A correction stands in the place of what it corrects; of
///        several the last counts. Nothing is dropped: whatever does not count is still a line
///        here.
/// Apart  Two entries were made apart when neither writer had seen the other's (heads in
///        record::Entry::seen). Where such a pair contradicts it is a conflict until an entry that
///        has seen both settles it.

#include <string>
#include <unordered_map>
#include <vector>

#include "record/entry.h"

namespace weighwright::job {

/// An entry as the journal gave it.
struct Kept {
  record::Entry entry;
  bool intact = true;
  std::string problem;  // why not
};

enum class Fate {
  holds,
  corrected,   // another line's words stand in its place
  undone,      // does not count
  correction,  // its words stand in another line's place
  damaged      // does not fit its hash: shown, never counted
};

struct Line {
  int number = 0;  // in the total order, from 1
  record::Entry entry;
  std::string problem;  // damaged: why
  Fate fate = Fate::holds;
  int says = -1;        // index of the line whose words count here; itself unless corrected
  std::vector<int> by;  // lines that undid or corrected it, in order
};

struct Conflict {
  enum class Kind {
    fork,         // one device wrote two entries of one number: a copy of the file was worked on
    corrections,  // an entry was corrected in two ways
    undone_and_corrected,
    decks,  // the deck was described anew in two ways
    ticks,  // ticked here, taken back there
    order   // something was moved here while something was read there
  } kind = Kind::fork;
  int first = -1;  // lines
  int second = -1;
  bool settled = false;
};

struct History {
  std::vector<Line> lines;
  std::vector<Conflict> conflicts;
  std::unordered_map<std::string, int> line_of_hash;
  /// Entries of the record itself (record::is_of_record), intact, in order: they are no lines, so
  /// that the numbers that people know stay.
  std::vector<record::Entry> of_record;

  /// Whether the line's words count, and in its own place.
  [[nodiscard]] bool counts(int line) const {
    const Fate fate = lines[static_cast<std::size_t>(line)].fate;
    return fate == Fate::holds || fate == Fate::corrected;
  }
  /// What counts in the line's place.
  [[nodiscard]] const record::Draft& words(int line) const {
    const Line& one = lines[static_cast<std::size_t>(line)];
    return lines[static_cast<std::size_t>(one.says)].entry.what;
  }
};

/// @param kept  in the total order
[[nodiscard]] History history_of(std::vector<Kept> kept);

/// Whether the writer of `later` had seen `earlier`.
[[nodiscard]] bool had_seen(const record::Entry& later, const record::Entry& earlier);

/// Neither had seen the other.
[[nodiscard]] bool made_apart(const record::Entry& a, const record::Entry& b);

/// Adds a conflict of the lines, or finds that a later entry settles it.
void add_conflict(History& history, Conflict::Kind kind, int first, int second);

}  // namespace weighwright::job
