#include "job/entry_words.h"

#include <fmt/format.h>

#include <chrono>
#include <variant>

#include "job/ticks.h"

namespace weighwright::job {
namespace {

using record::Draft;
using record::field;

constexpr std::int64_t kDay_ms = 86'400'000;

struct Civil {
  std::chrono::year_month_day date;
  int hour = 0;
  int minute = 0;
  int second = 0;
};

Civil civil(std::int64_t time_ms) {
  std::int64_t day = time_ms / kDay_ms;
  std::int64_t rest = time_ms % kDay_ms;
  if (rest < 0) {
    rest += kDay_ms;
    --day;
  }
  const std::chrono::sys_days date{std::chrono::days{static_cast<int>(day)}};
  const int seconds = static_cast<int>(rest / 1000);
  return {.date = std::chrono::year_month_day{date},
          .hour = seconds / 3600,
          .minute = seconds / 60 % 60,
          .second = seconds % 60};
}

std::string print(const Civil& time, char between) {
  return fmt::format("{:04}-{:02}-{:02}{}{:02}:{:02}:{:02}", static_cast<int>(time.date.year()),
                     static_cast<unsigned>(time.date.month()),
                     static_cast<unsigned>(time.date.day()), between, time.hour, time.minute,
                     time.second);
}

std::string counted(std::size_t count, const char* one, const char* many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

struct MeasurementWords {
  std::string operator()(const record::ReadingSet& set) const {
    bool no_load = false;
    for (const auto& reading : set.stands) no_load |= reading.no_load.has_value();
    return counted(set.stands.size(), "cell read", "cells read") + (no_load ? ", no-load too" : "");
  }
  std::string operator()(const record::TurnSet& set) const {
    bool shims = false;
    for (const auto& turn : set.stands) shims |= turn.shim_mm.has_value();
    return counted(set.stands.size(), "stand ", "stands ") + (shims ? "shimmed" : "turned");
  }
  std::string operator()(const record::HeightSet& /*set*/) const { return "stand tops surveyed"; }
  std::string operator()(const record::GapSet& set) const {
    return counted(set.gaps.size(), "gap felt", "gaps felt");
  }
  std::string operator()(const record::MapSet& set) const {
    return counted(set.loaded_and_moved.size(), "stand", "stands") + " loaded in turn: map";
  }
  std::string operator()(const record::ShiftSet& set) const {
    return counted(set.readings.size(), "reading", "readings") + " of a load here and there";
  }
  std::string operator()(const record::LoadSet& set) const {
    return counted(set.readings.size(), "reading", "readings") + " of loads as a whole";
  }
  std::string operator()(const record::TrimSet& set) const {
    return counted(set.moves.size(), "trim set", "trims set");
  }
  std::string operator()(const record::ElectricSet& set) const {
    return counted(set.stands.size() + (set.box ? 1 : 0), "cell", "cells") + " metered";
  }
  std::string operator()(const record::ForceSet& /*set*/) const { return "forces on stands"; }
  std::string operator()(const record::ZeroSet& set) const {
    return counted(set.readings.size(), "look at zero", "looks at zero");
  }
  std::string operator()(const record::LookSet& set) const {
    if (set.looks.size() != 1) return counted(set.looks.size(), "thing", "things") + " looked for";
    const record::Look& look = set.looks.front();
    return fmt::format("looked for {}{}{}: {}", look.code, look.where.empty() ? "" : " at ",
                       look.where, look.found ? "found" : "not found");
  }
  std::string operator()(const record::WeightSet& set) const {
    return counted(set.weights.size(), "line", "lines") + " of test weights at hand";
  }
  std::string operator()(const record::ProofSet& set) const {
    std::string checks;
    for (const record::ProofReading& one : set.readings) {
      if (checks.find(one.check) != std::string::npos) continue;
      checks += (checks.empty() ? "" : ", ") + one.check;
    }
    return counted(set.readings.size(), "test line", "test lines") + ": " + checks;
  }
};

std::string quoted(std::string_view text) {
  constexpr std::size_t kMost = 100;
  std::string shown(text.substr(0, kMost));
  if (text.size() > kMost) shown += "...";
  for (char& c : shown) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = ' ';
  }
  return shown;
}

std::string words_of(const SiteState& state, int line, const Draft& what) {
  const auto get = [&](std::string_view name) { return quoted(field(what.fields, name)); };
  if (what.kind == "measurement") {
    const auto event = state.event_of_line.find(line);
    if (event == state.event_of_line.end()) return "table " + get("file");
    return get("file") + ": " +
           measurement_words(state.events[static_cast<std::size_t>(event->second)].what);
  }
  if (what.kind == "deck") return "deck described: " + get("file");
  if (what.kind == "visit") {
    return field(what.fields, "reason") == "service" ? "visit: service call"
                                                     : "visit: installation";
  }
  if (what.kind == "tick") {
    const TickRule* const rule = find_tick(field(what.fields, "name"));
    const std::string says = rule == nullptr ? "" : ": " + std::string(rule->says);
    return (field(what.fields, "on") == "no" ? "no longer " : "ticked ") + get("name") + says;
  }
  if (what.kind == "note") return "note: " + get("text");
  if (what.kind == "undo") {
    const auto target = state.history.line_of_hash.find(std::string(field(what.fields, "of")));
    return target == state.history.line_of_hash.end()
               ? "undo of an entry that is not here"
               : fmt::format("undo of entry {}", target->second + 1);
  }
  std::string text = what.kind;
  for (const auto& [name, value] : what.fields) {
    // A rulebook's whole text, and marks of no meaning to a reader.
    if (name == "blake2b" || name == "token" || (what.kind == "rulebook" && name == "text"))
      continue;
    text += fmt::format("{} {} {}", text == what.kind ? ":" : ",", name, quoted(value));
  }
  for (char& c : text) {
    if (c == '_') c = ' ';
  }
  return text;
}

std::string correction_words(const Line& corrected, int number) {
  std::string text = fmt::format("corrects {}", corrected.number);
  if (corrected.fate == Fate::undone) return text + ", which is undone";
  if (corrected.fate == Fate::corrected && corrected.says + 1 != number) {
    text += fmt::format("; {} counts in its stead", corrected.says + 1);
  }
  return text;
}

std::string fate_words(const SiteState& state, const Line& line) {
  const auto& lines = state.history.lines;
  const auto undone_by = [&] {
    int by = 0;
    for (const int one : line.by) {
      if (lines[static_cast<std::size_t>(one)].entry.what.kind == "undo") by = one + 1;
    }
    return by;
  };
  switch (line.fate) {
    case Fate::holds:
      return "";
    case Fate::corrected:
      return fmt::format("corrected by {}", line.says + 1);
    case Fate::undone:
      return fmt::format("undone by {}", undone_by());
    case Fate::correction: {
      const auto found = state.history.line_of_hash.find(line.entry.what.corrects);
      return found == state.history.line_of_hash.end()
                 ? "corrects an entry that is not here"
                 : correction_words(lines[static_cast<std::size_t>(found->second)], line.number);
    }
    case Fate::damaged:
      return "damaged, not counted: " + line.problem;
  }
  return "";
}

const char* code_of(Conflict::Kind kind) {
  switch (kind) {
    case Conflict::Kind::fork:
      return "fork";
    case Conflict::Kind::corrections:
      return "corrections";
    case Conflict::Kind::undone_and_corrected:
      return "undone_and_corrected";
    case Conflict::Kind::decks:
      return "decks";
    case Conflict::Kind::ticks:
      return "ticks";
    case Conflict::Kind::order:
      return "order";
  }
  return "";
}

const char* sentence_of(Conflict::Kind kind) {
  switch (kind) {
    case Conflict::Kind::fork:
      return "Entries {} and {} carry one number of one device: a copy of the file was worked on. "
             "Both "
             "are kept and both count.";
    case Conflict::Kind::corrections:
      return "Entries {} and {} correct the same entry, made apart; the later in order counts.";
    case Conflict::Kind::undone_and_corrected:
      return "Entry {} undoes what entry {} corrects, made apart; it is undone.";
    case Conflict::Kind::decks:
      return "Entries {} and {} describe the deck in two ways, made apart; the later in order "
             "counts.";
    case Conflict::Kind::ticks:
      return "Entries {} and {} tick and untick one thing, made apart; the later in order counts.";
    case Conflict::Kind::order:
      return "Entry {} moved something and entry {} was read, made apart: nobody knows which came "
             "first. Read again.";
  }
  return "";
}

}  // namespace

std::string print_local(std::int64_t time_ms, int offset_min) {
  const char sign = offset_min < 0 ? '-' : '+';
  const int minutes = offset_min < 0 ? -offset_min : offset_min;
  return fmt::format("{} {}{:02}:{:02}", print(civil(time_ms + offset_min * 60'000LL), ' '), sign,
                     minutes / 60, minutes % 60);
}

std::string print_utc(std::int64_t time_ms) {
  return print(civil(time_ms), 'T') + "Z";
}

std::string measurement_words(const record::Measurement& what) {
  return std::visit(MeasurementWords{}, what);
}

report::EntryView entry_view(const SiteState& state, int line) {
  const Line& one = state.history.lines[static_cast<std::size_t>(line)];
  const record::Stamp& stamp = one.entry.stamp;
  report::EntryView view;
  view.number = one.number;
  view.name = record::print_name(stamp);
  view.time = print_local(stamp.time_ms, stamp.offset_min);
  view.time_utc = print_utc(stamp.time_ms);
  view.author = stamp.author;
  view.kind = one.entry.what.kind;
  view.says = words_of(state, line, one.entry.what);
  view.fate = fate_words(state, one);
  view.hash = one.entry.hash;
  view.fields = one.entry.what.fields;
  return view;
}

report::ConflictView conflict_view(const Conflict& conflict) {
  return {.kind = code_of(conflict.kind),
          .sentence = fmt::format(fmt::runtime(sentence_of(conflict.kind)), conflict.first + 1,
                                  conflict.second + 1),
          .first = conflict.first + 1,
          .second = conflict.second + 1,
          .settled = conflict.settled};
}

}  // namespace weighwright::job
