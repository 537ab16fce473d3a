#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <utility>

#include "job/chain_words.h"
#include "job/entry_words.h"
#include "job/job_case.h"
#include "job/job_open.h"
#include "job/paper_check.h"
#include "job/writing.h"
#include "journal/exchange.h"
#include "journal/export_heads.h"
#include "journal/founding.h"
#include "journal/journal.h"
#include "journal/merge.h"
#include "journal/salvage.h"

namespace weighwright::job {
namespace {

using journal::Access;
using journal::Journal;
using journal::Opened;
using journal::ProblemKind;

constexpr std::size_t kDevice = 16;
constexpr std::size_t kHash = 64;

const char* code_of(ProblemKind kind) {
  switch (kind) {
    case ProblemKind::changed:
      return "changed";
    case ProblemKind::zeroed:
      return "zeroed";
    case ProblemKind::missing:
      return "missing";
    case ProblemKind::reordered:
      return "reordered";
    case ProblemKind::tail_lost:
      return "tail_lost";
    case ProblemKind::fork:
      return "fork";
    case ProblemKind::pages:
      return "pages";
    case ProblemKind::log_end:
      return "log_end";
    case ProblemKind::forged:
      return "forged";
    case ProblemKind::impossible:
      return "impossible";
    case ProblemKind::guard_gone:
      return "guard_gone";
    case ProblemKind::photo_damaged:
      return "photo_damaged";
    case ProblemKind::photo_absent:
      return "photo_absent";
    case ProblemKind::clock_back:
      return "clock_back";
    case ProblemKind::unknown_kind:
      return "unknown_kind";
  }
  return "";
}

report::ProblemView problem_view(const journal::Problem& problem) {
  return {.code = code_of(problem.kind),
          .entry = problem.name,
          .time = problem.time_ms == 0 ? "" : print_utc(problem.time_ms),
          .what = problem.what,
          .breaks = problem.breaks};
}

bool is_hex(std::string_view text) {
  return text.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

/// "DEVICE:SEQUENCE:HASH" as job show prints it.
std::optional<record::Head> parse_head(const std::string& text) {
  const std::size_t first = text.find(':');
  const std::size_t second = text.find(':', first == std::string::npos ? first : first + 1);
  if (second == std::string::npos) return std::nullopt;
  record::Head head;
  head.device = text.substr(0, first);
  head.hash = text.substr(second + 1);
  const char* const end = text.data() + second;
  const auto result = std::from_chars(text.data() + first + 1, end, head.sequence);
  const bool sound = result.ec == std::errc{} && result.ptr == end && head.sequence > 0 &&
                     head.device.size() == kDevice && is_hex(head.device) &&
                     head.hash.size() == kHash && is_hex(head.hash);
  return sound ? std::optional(head) : std::nullopt;
}

JobAnswer<report::RecordedView> refused(units::Diagnostics faults) {
  return {.view = {}, .faults = std::move(faults)};
}

report::RecordedView view_of(Journal& journal, std::string sentence) {
  report::RecordedView view = recorded_view(journal, {});
  view.sentences = {std::move(sentence)};
  return view;
}

/// What comes from another file.
struct Outside {
  journal::Belonging belonging;
  std::vector<journal::ChainSummary> chains;
};

Outside outside_of(Journal& journal) {
  const std::vector<journal::LoadedEntry> entries = journal.entries();
  return {.belonging = journal::belonging_of(entries), .chains = journal::summaries_of(entries)};
}

Outside outside_of(const std::string& export_path) {
  journal::ExportHeads read = journal::heads_of_export(export_path);
  return {.belonging = std::move(read.belonging), .chains = std::move(read.chains)};
}

/// What came in is kept whatever it is; what can't be read of it is told at once.
void tell_unreadable(Journal& journal, report::RecordedView& view) {
  constexpr std::size_t kMost = 5;
  const units::Diagnostics faults = site_state_of(kept_entries(journal)).faults;
  for (std::size_t i = 0; i < std::min(kMost, faults.size()); ++i) {
    view.warnings.push_back("Kept, but not counted: " + units::print(faults[i]));
  }
  if (faults.size() > kMost) {
    view.warnings.push_back(
        fmt::format("And {} more of the kind: job show names them.", faults.size() - kMost));
  }
}

std::string photos(std::int64_t count) {
  return count == 0 ? "" : fmt::format(" and {} photo{}", count, count == 1 ? "" : "s");
}

}  // namespace

JobAnswer<report::VerifyView> job_verify(const std::string& path,
                                         const std::vector<std::string>& heads,
                                         const std::optional<std::string>& against,
                                         const std::optional<InputFile>& paper) {
  std::vector<record::Head> expected;
  for (const std::string& typed : heads) {
    const auto head = parse_head(typed);
    if (!head) {
      return {.view = {},
              .faults = {argument_fault(units::quote(typed) + " is no end of a chain",
                                        "DEVICE:COUNT:HASH as job show or a report prints it")}};
    }
    expected.push_back(*head);
  }
  Opened opened = Journal::open(path, Access::read);
  if (!opened.journal) return {.view = {}, .faults = std::move(opened.faults)};
  if (against) {
    journal::ExportHeads read = journal::heads_of_export(*against);
    if (!read.faults.empty()) return {.view = {}, .faults = std::move(read.faults)};
    expected.insert(expected.end(), read.heads.begin(), read.heads.end());
  }
  const journal::Verification found = opened.journal->verify(expected);
  report::VerifyView view;
  view.path = path;
  view.whole = found.whole();
  view.count = found.count;
  view.heads = heads_view(found.heads);
  for (const journal::Problem& problem : found.problems) {
    view.problems.push_back(problem_view(problem));
  }
  const std::vector<journal::LoadedEntry> entries = opened.journal->entries();
  view.chains = chain_views(journal::summaries_of(entries));
  if (paper) view.paper = paper_view(history_of(kept_of(entries)), *paper);
  if (expected.empty()) {
    view.remarks.emplace_back(
        "Entries cut off at the end of a chain leave no trace in the file itself: give the ends "
        "that a "
        "report or an export shows (--head, --against).");
  }
  return {.view = std::move(view), .faults = {}};
}

JobAnswer<report::RecordedView> job_merge(const std::string& path,
                                          const std::string& other,
                                          const Writer& writer,
                                          const KnownDevices& known) {
  Opened into = Journal::open(path, Access::write);
  if (!into.journal) return refused(std::move(into.faults));
  // An export is text, a journal is a database: whichever opens.
  Opened from = Journal::open(other, Access::read);
  const Outside outside = from.journal ? outside_of(*from.journal) : outside_of(other);
  if (!journal::are_one_journal(journal::belonging_of(into.journal->entries()),
                                outside.belonging)) {
    return refused(
        {{.file = other,
          .line = 0,
          .column = 0,
          .what =
              "this is the journal of another job: it did not begin with the same entry as " + path,
          .expected = "a copy made by job backup or job export, worked on apart"}});
  }
  const journal::Receiver receiver{.identity = identity_of(writer), .moment = moment_of(writer)};
  journal::Merged merged = from.journal ? journal::merge(*into.journal, *from.journal, receiver)
                                        : journal::merge_file(*into.journal, other, receiver);
  if (!merged.faults.empty()) {
    const bool of_journal = !from.journal && !journal::is_called_export(other);
    return refused(of_journal ? std::move(from.faults) : std::move(merged.faults));
  }
  report::RecordedView view =
      view_of(*into.journal,
              fmt::format("{} entr{}{} came from {}; nothing was changed or dropped.", merged.came,
                          merged.came == 1 ? "y" : "ies", photos(merged.attachments), other));
  for (const journal::Problem& problem : merged.left) {
    view.warnings.push_back("Left where it is: " + problem.what);
  }
  for (const std::string& number : merged.closed) {
    view.warnings.push_back(fmt::format(
        "This machine had written to a second copy of this job, as {} (a backup that was restored, "
        "or a file that was copied): its own key signs that. Everything is kept. That chain is "
        "closed, and this machine goes on as {}. Work on with one of the two files only.",
        number.substr(0, 8), merged.goes_on_as.substr(0, 8)));
  }
  tell_unreadable(*into.journal, view);
  view.chains = chain_views(outside.chains, writer, known);
  return {.view = std::move(view), .faults = {}};
}

JobAnswer<report::RecordedView> job_export(const std::string& path, const std::string& to) {
  Opened opened = Journal::open(path, Access::read);
  if (!opened.journal) return refused(std::move(opened.faults));
  const journal::Exported exported = journal::export_file(*opened.journal, to);
  if (!exported.faults.empty()) return refused(exported.faults);
  report::RecordedView view =
      view_of(*opened.journal, fmt::format("{} entries{} written to {} and read back.",
                                           exported.entries, photos(exported.attachments), to));
  for (const journal::Problem& problem : exported.left_out) {
    view.warnings.push_back("Left out: " + problem.what);
  }
  return {.view = std::move(view), .faults = {}};
}

JobAnswer<report::RecordedView> job_import(const std::string& path,
                                           const std::string& from,
                                           const Writer& writer,
                                           const KnownDevices& known) {
  Opened opened = journal::import_file(from, path);
  if (!opened.journal) return refused(std::move(opened.faults));
  report::RecordedView view = view_of(
      *opened.journal, fmt::format("{} imported from {}; every hash is as it was.", path, from));
  tell_unreadable(*opened.journal, view);
  view.chains = chain_views(journal::summaries_of(opened.journal->entries()), writer, known);
  return {.view = std::move(view), .faults = {}};
}

JobAnswer<report::RecordedView> job_backup(const std::string& path, const std::string& to) {
  Opened opened = Journal::open(path, Access::read);
  if (!opened.journal) return refused(std::move(opened.faults));
  units::Diagnostics faults = opened.journal->backup(to);
  if (!faults.empty()) return refused(std::move(faults));
  return {.view = view_of(*opened.journal, to + " written, opened and compared: a whole copy."),
          .faults = {}};
}

JobAnswer<report::RecordedView> job_rescue(const std::string& path, const std::string& to) {
  const journal::Rescued rescued = journal::rescue(path, to);
  if (!rescued.faults.empty()) return refused(rescued.faults);
  Opened opened = Journal::open(to, Access::read);
  if (!opened.journal) return refused(std::move(opened.faults));
  report::RecordedView view =
      view_of(*opened.journal, fmt::format("{} intact entr{} brought over to {}.", rescued.entries,
                                           rescued.entries == 1 ? "y" : "ies", to));
  for (const journal::Problem& problem : rescued.lost) {
    view.warnings.push_back("Not brought over: " + problem.what);
  }
  return {.view = std::move(view), .faults = {}};
}

}  // namespace weighwright::job
