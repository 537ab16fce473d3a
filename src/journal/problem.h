#pragma once
/// What a check of a journal found, each with the entry that it concerns.

#include <cstdint>
#include <string>

namespace weighwright::journal {

enum class ProblemKind {
  changed,        // content and hash do not fit, or the entry after it names another one
  zeroed,         // nothing but zero bytes where an entry was
  missing,        // a gap in a chain
  reordered,      // its place in the table, or its order, is not the one that it was written with
  tail_lost,      // something knows of later entries of a chain than the journal holds
  fork,           // a chain goes on in two ways: a copy was worked on under one device
  pages,          // the file itself is damaged
  log_end,        // the write-ahead log ends in something unfinished or damaged
  forged,         // not signed by the device whose chain it stands in
  impossible,     // its place, order number or time can not come from counting or from a clock
  guard_gone,     // the triggers that refuse changes are gone
  photo_damaged,  // bytes of an attachment do not fit its hash
  photo_absent,   // an entry names an attachment that is not there
  clock_back,     // time goes back within a chain
  unknown_kind,   // a kind of entry that a later version added
};

struct Problem {
  ProblemKind kind = ProblemKind::changed;
  /// Whether something recorded is lost, changed or in doubt. False: a remark.
  bool breaks = true;
  std::string name;           // print_name of the entry; empty: the file as a whole
  std::int64_t sequence = 0;  // of the entry; 0 when there is none
  std::int64_t time_ms = 0;   // when it was made; 0 when not known
  std::string what;           // a sentence
};

}  // namespace weighwright::journal
