#include "job/history.h"

#include <algorithm>
#include <map>
#include <utility>

namespace weighwright::job {
namespace {

using record::Entry;
using record::field;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

int find(const History& history, std::string_view hash) {
  const auto found = history.line_of_hash.find(std::string(hash));
  return found == history.line_of_hash.end() ? -1 : found->second;
}

/// The line that a correction, or a correction of a correction, stands in for; -1: not known here.
int root_of(const History& history, int line) {
  while (line >= 0 && !history.lines[at(line)].entry.what.corrects.empty()) {
    const int next = find(history, history.lines[at(line)].entry.what.corrects);
    if (next >= line) return -1;  // can only name what was there before it
    line = next;
  }
  return line;
}

/// An undo can only name what was there before it: from the last to the first, each is known to
/// hold or not when its turn comes.
void apply_undos(History& history) {
  for (int i = static_cast<int>(history.lines.size()) - 1; i >= 0; --i) {
    const Line& undo = history.lines[at(i)];
    if (undo.fate != Fate::holds || undo.entry.what.kind != "undo") continue;
    const int target = find(history, field(undo.entry.what.fields, "of"));
    if (target < 0 || target >= i || history.lines[at(target)].fate == Fate::damaged) continue;
    history.lines[at(target)].fate = Fate::undone;
    history.lines[at(target)].by.push_back(i);
  }
}

void apply_corrections(History& history) {
  for (int i = 0; i < static_cast<int>(history.lines.size()); ++i) {
    Line& line = history.lines[at(i)];
    if (line.fate != Fate::holds || line.entry.what.corrects.empty()) continue;
    const int root = root_of(history, i);
    if (root < 0 || root == i) continue;  // what it corrects is not here: it stands for itself
    line.fate = Fate::correction;
    Line& corrected = history.lines[at(root)];
    corrected.by.push_back(i);
    if (corrected.fate == Fate::undone) {
      if (made_apart(line.entry, history.lines[at(corrected.by.front())].entry)) {
        add_conflict(history, Conflict::Kind::undone_and_corrected, corrected.by.front(), i);
      }
      continue;
    }
    if (corrected.fate == Fate::corrected &&
        made_apart(history.lines[at(corrected.says)].entry, line.entry)) {
      add_conflict(history, Conflict::Kind::corrections, corrected.says, i);
    }
    if (corrected.fate == Fate::damaged) continue;
    corrected.fate = Fate::corrected;
    corrected.says = i;
  }
}

void find_forks(History& history) {
  std::map<std::pair<std::string, std::int64_t>, int> first;
  for (int i = 0; i < static_cast<int>(history.lines.size()); ++i) {
    const record::Stamp& stamp = history.lines[at(i)].entry.stamp;
    const auto [place, is_new] = first.try_emplace({stamp.device, stamp.sequence}, i);
    if (!is_new) add_conflict(history, Conflict::Kind::fork, place->second, i);
  }
}

/// The later of two decks or ticks made apart would silently win: both are named.
void find_rivals(History& history) {
  std::map<std::string, std::vector<int>> latest;  // by what they decide; one of each chain
  for (int i = 0; i < static_cast<int>(history.lines.size()); ++i) {
    if (!history.counts(i)) continue;
    const record::Draft& words = history.words(i);
    std::string key;
    if (words.kind == "deck") key = "deck";
    if (words.kind == "tick") key = "tick " + std::string(field(words.fields, "name"));
    if (key.empty()) continue;
    std::vector<int>& rivals = latest[key];
    for (const int other : rivals) {
      const record::Draft& there = history.words(other);
      const std::string_view name = key == "deck" ? "text" : "on";
      const bool agree = field(words.fields, name) == field(there.fields, name);
      if (agree || !made_apart(history.lines[at(other)].entry, history.lines[at(i)].entry))
        continue;
      add_conflict(history, key == "deck" ? Conflict::Kind::decks : Conflict::Kind::ticks, other,
                   i);
    }
    // What this writer had seen is no rival of anything later.
    std::erase_if(rivals, [&](int other) {
      return had_seen(history.lines[at(i)].entry, history.lines[at(other)].entry);
    });
    rivals.push_back(i);
  }
}

bool settles(const Line& line, const Entry& first, const Entry& second) {
  if (line.fate != Fate::holds || line.entry.what.kind != "settled") return false;
  const std::string_view of = field(line.entry.what.fields, "of");
  const std::string_view with = field(line.entry.what.fields, "with");

  return (of == first.hash && with == second.hash) || (of == second.hash && with == first.hash);
}

}  // namespace

bool had_seen(const Entry& later, const Entry& earlier) {
  if (later.stamp.device == earlier.stamp.device) {
    return later.stamp.sequence > earlier.stamp.sequence;
  }
  return std::any_of(later.seen.begin(), later.seen.end(), [&](const record::Head& head) {
    return head.device == earlier.stamp.device && head.sequence >= earlier.stamp.sequence;
  });
}

bool made_apart(const Entry& a, const Entry& b) {
  return !had_seen(a, b) && !had_seen(b, a);
}

void add_conflict(History& history, Conflict::Kind kind, int first, int second) {
  Conflict conflict{.kind = kind, .first = first, .second = second, .settled = false};
  const Entry& a = history.lines[at(first)].entry;
  const Entry& b = history.lines[at(second)].entry;
  conflict.settled = std::any_of(history.lines.begin(), history.lines.end(),
                                 [&](const Line& line) { return settles(line, a, b); });
  history.conflicts.push_back(conflict);
}

History history_of(std::vector<Kept> kept) {
  History history;
  history.lines.reserve(kept.size());
  history.line_of_hash.reserve(kept.size());
  for (Kept& one : kept) {
    if (one.intact && record::is_of_record(one.entry.what.kind)) {
      history.of_record.push_back(std::move(one.entry));
      continue;
    }
    const int i = static_cast<int>(history.lines.size());
    Line line;
    line.number = i + 1;
    line.fate = one.intact ? Fate::holds : Fate::damaged;
    line.problem = std::move(one.problem);
    line.says = i;
    line.entry = std::move(one.entry);
    history.line_of_hash.emplace(line.entry.hash, i);
    history.lines.push_back(std::move(line));
  }
  apply_undos(history);
  apply_corrections(history);
  find_forks(history);
  find_rivals(history);
  return history;
}

}  // namespace weighwright::job
