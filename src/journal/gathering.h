#pragma once
/// All that is intact in a journal, to be brought elsewhere as it is.

#include <vector>

#include "journal/merge.h"
#include "journal/store.h"

namespace weighwright::journal {

struct Gathered {
  std::vector<Row> rows;  // in total order
  std::vector<record::Head> heads;
  std::vector<ChainSummary> chains;
  std::vector<Attachment> attachments;
  std::vector<Problem> left_out;  // damaged, forged and blocking entries, damaged attachments
};

/// Every signature is looked at.
/// @param with_unconfirmed  also intact entries from a damaged end of the log that may never have
///                          been confirmed
[[nodiscard]] Gathered gather(Journal& journal, bool with_unconfirmed = false);

/// What may not come into another journal, as faults that name each entry: forged ones and
/// impossible ones.
/// @param file  where they come from
[[nodiscard]] units::Diagnostics faults_of_left_out(const std::vector<Problem>& left_out,
                                                    const std::string& file);

/// Adds what is not there yet, in one transaction, unless something in it does not belong here:
/// an entry that together with those that are here is forged or impossible, or one under a number
/// of `receiver` that it did not sign.
/// @param receiver  the device at which this is done; its own entries that come in close its chain
/// @param file      where they come from, for messages
[[nodiscard]] Merged bring_into(Journal& into,
                                const Gathered& gathered,
                                const Receiver& receiver,
                                const std::string& file);

}  // namespace weighwright::journal
