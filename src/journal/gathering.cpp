#include "journal/gathering.h"

#include "journal/chains.h"

namespace weighwright::journal {
namespace {

Problem left_out(const LoadedEntry& loaded) {
  const record::Stamp& stamp = loaded.entry.stamp;
  return {.kind = loaded.problem_kind.value_or(ProblemKind::changed),
          .breaks = true,
          .name = record::print_name(stamp),
          .sequence = stamp.sequence,
          .time_ms = stamp.time_ms,
          .what = "it stays behind: " + loaded.problem};
}

Problem photo_left_out(const std::string& hash) {
  Problem problem;
  problem.kind = ProblemKind::photo_damaged;
  problem.what = "attachment " + hash + " is damaged and stays behind";
  return problem;
}

}  // namespace

Gathered gather(Journal& journal, bool with_unconfirmed) {
  Gathered gathered;
  std::vector<LoadedEntry> entries = StoreAccess::store(journal).load(true, with_unconfirmed);
  for (const LoadedEntry& one : entries) {
    if (one.intact) {
      gathered.rows.push_back(row_of(one));
    } else {
      gathered.left_out.push_back(left_out(one));
    }
  }
  gathered.heads = heads_of(entries);
  for (const std::string& hash : journal.attachments()) {
    std::optional<std::string> bytes = journal.attachment(hash);
    const std::optional<HashBytes> name = parse_hex(hash);
    if (bytes && name) {
      gathered.attachments.push_back({.hash = *name, .bytes = std::move(*bytes)});
    } else {
      gathered.left_out.push_back(photo_left_out(hash));
    }
  }
  return gathered;
}

}  // namespace weighwright::journal
