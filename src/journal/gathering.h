#pragma once
/// All that is intact in a journal, to be brought elsewhere as it is.

#include <vector>

#include "journal/merge.h"
#include "journal/store.h"

namespace weighwright::journal {

struct Gathered {
  std::vector<Row> rows;  // in total order
  std::vector<record::Head> heads;
  std::vector<Attachment> attachments;
  std::vector<Problem> left_out;  // damaged entries and attachments
};

/// @param with_unconfirmed  also intact entries from a damaged end of the log that may never have
///                          been confirmed
[[nodiscard]] Gathered gather(Journal& journal, bool with_unconfirmed = false);

/// Adds what is not there yet, in one transaction.
[[nodiscard]] Merged bring_into(Journal& into, const Gathered& gathered);

}  // namespace weighwright::journal
