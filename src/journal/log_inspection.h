#pragma once
/// The write-ahead log, looked at before SQLite does: SQLite takes it up to the first frame whose
/// checksum does not fit and forgets the rest without a word. What was committed behind that
/// frame is found here.
///
/// Source  SQLite's "Database File Format", section 4 (frames, salts, checksum, commit frames).

#include <string_view>
#include <vector>

#include "journal/journal.h"
#include "journal/page_search.h"

namespace weighwright::journal {

struct LogState {
  bool header_damaged = false;
  bool unfinished = false;  // something stands behind the last transaction that SQLite takes
  /// Transactions that end behind the first frame that does not fit. One: the power failed while it
  /// was written (then it was never confirmed) or it was damaged. More: it was damaged.
  int commits_beyond = 0;
  bool commit_in_doubt = false;       // another one may have ended in a frame of zeros
  std::vector<LoadedEntry> rescued;   // intact entries from those frames, with content
  std::vector<LoadedEntry> doubtful;  // rows of which no intact copy lies there
  [[nodiscard]] bool cut() const { return commits_beyond > 0 || commit_in_doubt; }
  /// Something was recorded there, or was about to be (once what the file has is taken out).
  [[nodiscard]] bool holds_more() const { return cut() && (!rescued.empty() || !doubtful.empty()); }
  /// A power failure alone can not have done it.
  [[nodiscard]] bool surely_damaged() const {
    return header_damaged ? !rescued.empty() : commits_beyond > 1;
  }
};

/// @param log  the bytes of the file with -wal at the end of its name; empty: nothing is found
[[nodiscard]] LogState inspect_log(std::string_view log);

/// All frames, newest first.
[[nodiscard]] std::vector<PageImage> pages_of_log(std::string_view log);

}  // namespace weighwright::journal
