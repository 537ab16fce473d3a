#include "journal/merge.h"

#include <algorithm>

#include "journal/gathering.h"
#include "journal/store.h"

namespace weighwright::journal {

Merged bring_into(Journal& into, const Gathered& gathered) {
  Merged merged;
  merged.left = gathered.left_out;
  const StoreAccess::Brought brought =
      StoreAccess::bring(into, gathered.rows, gathered.attachments);
  merged.came = brought.rows;
  merged.attachments = brought.attachments;
  for (Problem& one : problems_of(into.entries(), {})) {
    if (one.kind == ProblemKind::fork) merged.forks.push_back(std::move(one));
  }
  return merged;
}

Merged merge(Journal& into, Journal& from) {
  if (StoreAccess::store(into).access() == Access::read) {
    Merged refused;
    refused.faults.push_back(
        {.file = into.path(), .what = "the journal was opened for reading", .expected = {}});
    return refused;
  }
  return bring_into(into, gather(from));
}

}  // namespace weighwright::journal
