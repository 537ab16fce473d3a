#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "report/job_view.h"
#include "report/paragraph.h"

namespace weighwright::report {
namespace {

constexpr int kWidth = 80;

/// The last ones by number: "27, 28, 29 and 5 earlier".
std::string numbers(const std::vector<int>& entries) {
  constexpr std::size_t kMost = 6;
  const std::size_t from = entries.size() > kMost ? entries.size() - kMost : 0;
  std::string text;
  for (std::size_t i = from; i < entries.size(); ++i) {
    text += fmt::format("{}{}", i > from ? ", " : "", entries[i]);
  }
  return from > 0 ? fmt::format("{} and {} earlier", text, from) : text;
}

std::string because(const std::vector<int>& entries) {
  if (entries.empty()) return "";
  return fmt::format(" (entr{} {})", entries.size() == 1 ? "y" : "ies", numbers(entries));
}

std::string mark(const std::string& state) {
  if (state == "done") return "[x]";
  if (state == "blocked") return "[!]";
  if (state == "not_needed") return " - ";
  return "[ ]";
}

std::string heads_text(const std::vector<HeadView>& heads) {
  std::string text = "Ends of the chains (keep them with every paper)\n";
  for (const HeadView& head : heads) {
    text += fmt::format("  {}:{}:{}\n", head.device, head.sequence, head.hash);
  }
  return text;
}

std::string chains_text(const std::vector<ChainView>& chains, const char* title) {
  if (chains.empty()) return "";
  std::string text = std::string(title) + "\n";
  for (const ChainView& chain : chains) text += wrap(chain.sentence, kWidth, "  ", "    ");
  return text;
}

/// Of a journal's own chains only what is not proved needs a word.
std::string unsigned_text(const std::vector<ChainView>& chains) {
  std::vector<ChainView> doubtful;
  std::copy_if(chains.begin(), chains.end(), std::back_inserter(doubtful),
               [](const ChainView& chain) { return chain.signed_entries < chain.entries; });
  return chains_text(doubtful, "Not signed, or not from the first on");
}

/// What is done takes a line; what is not says why.
std::string steps_text(const JobView& view) {
  std::string text = "\nWhere the job stands\n";
  for (const StepView& step : view.steps) {
    const bool done = step.state == "done";
    text +=
        fmt::format("  {} {}{}\n", mark(step.state), step.name, done ? because(step.entries) : "");
    if (done) continue;
    text += wrap(step.why + because(step.entries), kWidth, "        ", "        ");
  }
  return text;
}

std::string action_text(const JobView& view) {
  const ActionView& next = view.next;
  std::string text = wrap(next.headline + ".", kWidth, "NEXT  ", "      ");
  for (const std::string& caution : next.cautions) text += wrap(caution, kWidth, "  ! ", "    ");
  int number = 0;
  for (const std::string& one : next.how) {
    text += next.how.size() == 1 ? wrap(one, kWidth, "  ", "  ")
                                 : wrap(one, kWidth, fmt::format("  {}. ", ++number), "     ");
  }
  if (!next.then_type.empty()) {
    text += wrap("Then: weighwright " + next.then_type, kWidth, "  ", "    ");
  }
  if (!next.entries.empty()) {
    text += wrap(fmt::format("Rests on entr{} {}.", next.entries.size() == 1 ? "y" : "ies",
                             numbers(next.entries)),
                 kWidth, "  ", "  ");
  }
  return text;
}

std::string title(const JobView& view) {
  const std::string name = view.deck_name.empty() ? "No deck described yet" : view.deck_name;
  return fmt::format("{}: {}, {} entr{}\n", name, view.began, view.entry_count,
                     view.entry_count == 1 ? "y" : "ies");
}

std::string warnings_text(const JobView& view) {
  std::string text;
  for (const std::string& damage : view.damage) text += wrap(damage, kWidth, "  DAMAGED: ", "    ");
  for (const std::string& warning : view.warnings) text += wrap(warning, kWidth, "  ! ", "    ");
  constexpr std::size_t kMostTold = 3;
  for (std::size_t i = 0; i < std::min(kMostTold, view.unreadable.size()); ++i) {
    text += wrap("not counted: " + units::print(view.unreadable[i]), kWidth, "  ? ", "    ");
  }
  if (view.unreadable.size() > kMostTold) {
    text += fmt::format("  ? and {} more (--json names all)\n", view.unreadable.size() - kMostTold);
  }
  return text;
}

std::string conflicts_text(const std::vector<ConflictView>& conflicts) {
  std::string text;
  for (const ConflictView& conflict : conflicts) {
    text +=
        wrap(conflict.sentence, kWidth, conflict.settled ? "  settled: " : "  CONFLICT: ", "    ");
  }
  return text.empty() ? "" : "\nMade apart\n" + text;
}

std::string entry_line(const EntryView& entry) {
  std::string text =
      wrap(entry.says, kWidth, fmt::format("{:5}  {}  ", entry.number, entry.time.substr(0, 16)),
           "         ");
  if (!entry.fate.empty()) text += wrap(entry.fate, kWidth, "         -> ", "            ");
  return text;
}

std::string as_found_text(const AsFoundView& as_found) {
  if (as_found.entries.empty()) return "";
  std::string sentence =
      fmt::format("{}: entr{} {}.",
                  as_found.frozen ? fmt::format("Frozen by entry {}", as_found.frozen_by)
                                  : "Not frozen yet (nothing was moved)",
                  as_found.entries.size() == 1 ? "y" : "ies", numbers(as_found.entries));
  if (!as_found.corrected_later.empty()) {
    sentence += fmt::format(" Corrected after that by {}: the reading as first typed stays shown.",
                            numbers(as_found.corrected_later));
  }
  return "\nAs found\n" + wrap(sentence, kWidth, "  ", "  ");
}

std::string cell_words(const StandCellView::Cell& cell) {
  std::string text = cell.serial.empty() ? "serial number not written down" : cell.serial;
  if (!cell.certificate.empty()) text += ", certificate " + cell.certificate;
  if (cell.entry > 0) text += fmt::format(" (entry {})", cell.entry);
  return text;
}

/// Stands of which nobody said anything are left out.
std::string cells_text(const std::vector<StandCellView>& cells) {
  std::string text;
  for (const StandCellView& cell : cells) {
    if (!cell.told()) continue;
    std::string line = cell_words(cell.now);
    for (const std::string& what : cell.not_known) line += "; " + what + " unknown";
    for (auto one = cell.before.rbegin(); one != cell.before.rend(); ++one) {
      line += "; before: " + cell_words(*one);
    }
    text += wrap(line, kWidth, fmt::format("  {:<4}", cell.stand), "      ");
  }
  return text.empty() ? "" : "\nCells\n" + text;
}

std::string behind_text(const BehindAction& behind) {
  std::string text;
  if (behind.diagnosis) text += "\n" + draw_text(*behind.diagnosis);
  if (behind.share) text += "\n" + draw_text(*behind.share);
  if (behind.trim) text += "\n" + draw_text(*behind.trim);
  if (behind.span) text += "\n" + draw_text(*behind.span);
  return text;
}

}  // namespace

std::string draw_show(const JobView& view, int most) {
  std::string text =
      title(view) + warnings_text(view) + steps_text(view) + '\n' + action_text(view);
  text += as_found_text(view.as_found) + cells_text(view.cells) + conflicts_text(view.conflicts);
  const std::size_t all = view.entries.size();
  const std::size_t shown = most < 0 ? all : std::min(all, static_cast<std::size_t>(most));
  text += shown == all ? "\nEntries\n"
                       : fmt::format("\nLast entries ({} more with --all)\n", all - shown);
  for (std::size_t i = all - shown; i < all; ++i) text += entry_line(view.entries[i]);
  if (most < 0 && !view.of_record.empty()) {
    text += "\nOf the record itself\n";
    for (const EntryView& entry : view.of_record) {
      text += wrap(entry.says, kWidth, "       " + entry.time.substr(0, 16) + "  ", "         ");
    }
  }
  text += '\n' + heads_text(view.heads);
  return text + (most < 0 ? chains_text(view.chains, "Who wrote") : unsigned_text(view.chains));
}

std::string draw_next(const JobView& view) {
  return title(view) + warnings_text(view) + action_text(view) + behind_text(view.behind);
}

std::string draw_text(const RecordedView& view) {
  std::string text;
  if (!view.entries.empty()) text += "Recorded\n";
  for (const EntryView& entry : view.entries) text += entry_line(entry);
  for (const std::string& sentence : view.sentences) text += wrap(sentence, kWidth, "", "  ");
  for (const std::string& warning : view.warnings) text += wrap(warning, kWidth, "! ", "  ");
  text += chains_text(view.chains, "Whose chains it holds");
  return text + conflicts_text(view.conflicts);
}

std::string draw_text(const VerifyView& view) {
  std::string text =
      wrap(view.whole
               ? fmt::format("WHOLE. {} entries, every one as it was recorded.", view.count)
               : fmt::format("BROKEN. {} entries are as they were recorded; what is named below is "
                             "not.",
                             view.count),
           kWidth);
  for (const ProblemView& problem : view.problems) {
    std::string where = problem.entry.empty() ? "" : "entry " + problem.entry;
    if (!problem.time.empty()) where += " of " + problem.time;
    text += wrap((where.empty() ? "" : where + ": ") + problem.what, kWidth,
                 problem.breaks ? "  BROKEN: " : "  note: ", "    ");
  }
  for (const std::string& remark : view.remarks) text += wrap(remark, kWidth, "  note: ", "    ");
  if (view.paper) {
    text += wrap(view.paper->sentence, kWidth, view.paper->issued ? "PAPER. " : "NOT ISSUED. ");
  }
  return text + heads_text(view.heads) + chains_text(view.chains, "Who wrote");
}

}  // namespace weighwright::report
