#include "journal/gathering.h"

#include "journal/chains.h"
#include "journal/impossible.h"

namespace weighwright::journal {
namespace {

Problem left_out(const LoadedEntry& loaded) {
  const record::Stamp& stamp = loaded.entry.stamp;
  return {.kind = loaded.problem_kind.value_or(ProblemKind::changed),
          .breaks = true,
          .name = record::print_name(stamp),
          .sequence = stamp.sequence,
          .time_ms = stamp.time_ms,
          .what = loaded.problem};
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
  std::vector<LoadedEntry> entries = StoreAccess::store(journal).load(
      {.content = true, .unconfirmed = with_unconfirmed, .signatures = Signatures::every});
  for (const auto& [hash, impossible] : impossible_of(entries)) {
    // What only a clock did is a fact all the same: it stays in a backup, an export, a rescue.
    if (!impossible.blocks) continue;
    for (LoadedEntry& one : entries) {
      if (one.entry.hash != hash) continue;
      one.intact = false;
      one.problem_kind = ProblemKind::impossible;
      one.problem = impossible.why;
    }
  }
  for (const LoadedEntry& one : entries) {
    if (one.intact) {
      gathered.rows.push_back(row_of(one));
    } else {
      gathered.left_out.push_back(left_out(one));
    }
  }
  gathered.heads = heads_of(entries);
  gathered.chains = summaries_of(entries);
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

units::Diagnostics faults_of_left_out(const std::vector<Problem>& left_out,
                                      const std::string& file) {
  units::Diagnostics faults;
  for (const Problem& one : left_out) {
    const bool alien = one.kind == ProblemKind::forged || one.kind == ProblemKind::impossible;
    if (!alien) continue;
    faults.push_back({.file = file,
                      .what = "entry " + one.name + " may not come in: " + one.what,
                      .expected = "a copy without it: `job rescue` to a new file leaves it out"});
  }
  return faults;
}

}  // namespace weighwright::journal
