#pragma once
/// Entries of the record itself in words.

#include "record/entry.h"
#include "report/job_view.h"

namespace weighwright::job {

/// Without a number: they are not counted among what happened on the site.
[[nodiscard]] report::EntryView record_entry_view(const record::Entry& entry);

}  // namespace weighwright::job
