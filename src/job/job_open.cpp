#include "job/job_open.h"

#include <algorithm>
#include <charconv>
#include <utility>

#include "job/entry_words.h"

namespace weighwright::job {
namespace {

constexpr std::size_t kLeastHash = 6;
constexpr std::size_t kShownHash = 8;

std::optional<int> whole_number(std::string_view text) {
  if (text.starts_with('#')) text.remove_prefix(1);
  int number = 0;
  const auto result = std::from_chars(text.data(), text.data() + text.size(), number);
  if (text.empty() || result.ec != std::errc{} || result.ptr != text.data() + text.size()) {
    return std::nullopt;
  }
  return number;
}

}  // namespace

std::vector<Kept> kept_of(const std::vector<journal::LoadedEntry>& entries) {
  std::vector<Kept> kept;
  kept.reserve(entries.size());
  for (const journal::LoadedEntry& loaded : entries) {
    kept.push_back({.entry = loaded.entry, .intact = loaded.intact, .problem = loaded.problem});
  }
  return kept;
}

std::vector<Kept> kept_entries(journal::Journal& journal) {
  return kept_of(journal.entries());
}

units::Diagnostics belongs_elsewhere(const std::optional<std::string>& meant,
                                     const std::string& founding,
                                     const std::string& path) {
  if (!meant || (!founding.empty() && *meant == founding)) return {};
  const auto beginning = [](const std::string& hash) { return hash.substr(0, kShownHash); };
  const std::string file = path.substr(path.find_last_of("/\\") + 1);
  return {{.file = "journal",
           .line = 0,
           .column = 0,
           .what = "this was typed for another journal (" + beginning(*meant) +
                   "...) than the one that is open here (" + units::quote(file) + ", " +
                   (founding.empty() ? "whose beginning is lost" : beginning(founding) + "...") +
                   "); nothing was recorded",
           .expected = "the program serving the journal that it was typed for"}};
}

std::vector<report::HeadView> heads_view(const std::vector<record::Head>& heads) {
  std::vector<report::HeadView> list;
  list.reserve(heads.size());
  for (const record::Head& head : heads) {
    list.push_back({.device = head.device, .sequence = head.sequence, .hash = head.hash});
  }
  return list;
}

units::Diagnostic argument_fault(std::string what, std::string expected) {
  return {.file = "command line",
          .line = 0,
          .column = 0,
          .what = std::move(what),
          .expected = std::move(expected)};
}

FoundLine find_line(const History& history, const std::string& typed) {
  const auto nothing = [&](std::string what) {
    return FoundLine{.line = {},
                     .fault = argument_fault(std::move(what),
                                             "the number of an entry (job show lists them), its "
                                             "name, or the first digits of its hash")};
  };
  const int count = static_cast<int>(history.lines.size());
  const auto number = whole_number(typed);
  if (number && *number >= 1 && *number <= count) return {.line = *number - 1, .fault = {}};
  std::vector<int> found;
  for (int i = 0; i < count; ++i) {
    const record::Entry& entry = history.lines[static_cast<std::size_t>(i)].entry;
    const bool by_hash = typed.size() >= kLeastHash && entry.hash.starts_with(typed);
    if (by_hash || record::print_name(entry.stamp) == typed) found.push_back(i);
  }
  if (found.size() == 1) return {.line = found.front(), .fault = {}};
  return nothing(found.empty() ? "there is no entry " + units::quote(typed)
                               : units::quote(typed) + " is the name of several entries");
}

report::RecordedView recorded_view(journal::Journal& journal,
                                   const std::vector<record::Entry>& entries) {
  const SiteState state = site_state_of(kept_entries(journal));
  report::RecordedView view;
  view.path = journal.path();
  view.heads = heads_view(journal.heads());
  for (const record::Entry& entry : entries) {
    const auto found = state.history.line_of_hash.find(entry.hash);
    if (found != state.history.line_of_hash.end()) {
      view.entries.push_back(entry_view(state, found->second));
    }
  }
  for (const Conflict& conflict : state.history.conflicts) {
    if (!conflict.settled) view.conflicts.push_back(conflict_view(conflict));
  }
  return view;
}

}  // namespace weighwright::job
