#include "job/site_state.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <variant>

#include "job/ticks.h"
#include "record/csv.h"

namespace weighwright::job {
namespace {

using record::Draft;
using record::field;
using record::Measurement;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

template <class... Kinds>
bool is_any(const Measurement& what) {
  return (std::holds_alternative<Kinds>(what) || ...);
}

bool moves_something(const Measurement& what) {
  return is_any<record::TurnSet, record::TrimSet>(what);
}

class Folder {
 public:
  explicit Folder(SiteState& state) : state_(state) {}

  void fold() {
    find_deck();
    for (int i = 0; i < static_cast<int>(state_.history.lines.size()); ++i) {
      if (state_.history.counts(i)) take(i, state_.history.words(i));
    }
    find_late_corrections();
    find_moves_apart();
  }

 private:
  /// The deck as described last is the one that everything is read with.
  void find_deck() {
    for (int i = static_cast<int>(state_.history.lines.size()) - 1; i >= 0; --i) {
      if (!state_.history.counts(i) || state_.history.words(i).kind != "deck") continue;
      const Draft& words = state_.history.words(i);
      state_.deck_line = i;
      LoadedDeck loaded = load_deck({.name = source_name(i + 1, field(words.fields, "file")),
                                     .text = std::string(field(words.fields, "text"))});
      if (loaded.ok()) {
        state_.deck = std::move(loaded);
      } else {
        state_.faults = std::move(loaded.faults);
      }
      return;
    }
  }

  /// Values that an older version took as they were typed: they stay recorded, and are not used.
  void tell_odd_values(int line, const Draft& words) {
    for (record::ValueFault& odd : record::odd_values(words)) {
      state_.faults.push_back({.file = source_name(line + 1, words.kind),
                               .line = 0,
                               .column = 0,
                               .what = std::move(odd.what),
                               .expected = std::move(odd.expected)});
    }
  }

  void take(int line, const Draft& words) {
    tell_odd_values(line, words);
    if (words.kind == "visit") begin_visit(line, words);
    if (words.kind == "tick") take_tick(line, words);
    if (words.kind == "measurement") take_measurement(line, words);
    if (words.kind == "seal_broken") {
      state_.seals_broken.push_back(line);
      adjusted(line);
    }
    if (words.kind == "seal_applied") state_.seals_applied.push_back(line);
    if (words.kind == "cell_replaced") {
      state_.cell_line = line;
      adjusted(line);
    }
    if (words.kind == "setting") take_setting(line, words);
    take_paper(line, words);
  }

  /// A setting as left is an adjustment when it differs from what it was, or when it is one of
  /// those that change what is indicated. Writing down what was not touched is none.
  void take_setting(int line, const Draft& words) {
    state_.settings.push_back(line);
    const std::string name(field(words.fields, "name"));
    const std::string value(field(words.fields, "value"));
    const auto known = setting_values_.find(name);
    const bool left = field(words.fields, "when") == "left";
    const bool changed = known != setting_values_.end() && known->second != value;
    const bool same = known != setting_values_.end() && known->second == value;
    setting_values_[name] = value;
    if (!left || same || (!changed && !changes_indication(name))) return;
    adjusted(line);
    if (changes_indication(name)) state_.span_line = line;
  }

  static bool changes_indication(const std::string& name) {
    static const std::set<std::string> kNames = {
        "span",     "calibration", "gain",   "linearity", "linearisation", "linearization",
        "capacity", "interval",    "factor", "gravity",   "zero"};
    return kNames.contains(name);
  }

  /// What is said for a test and its report; the last word counts.
  void take_paper(int line, const Draft& words) {
    if (words.kind == "occasion") state_.occasion_line = line;
    if (words.kind == "rulebook") state_.rulebook_line = line;
    if (words.kind == "item") state_.item_line = line;
    if (words.kind == "party") state_.parties[std::string(field(words.fields, "role"))] = line;
    if (words.kind == "report_issued") state_.reports.push_back(line);
    if (words.kind == "weather") state_.weather.push_back(line);
    if (words.kind == "counter") state_.counters.push_back(line);
  }

  void begin_visit(int line, const Draft& words) {
    state_.visit_line = line;
    vouched_from_ = state_.events.size();
    state_.service = field(words.fields, "reason") == "service";
    state_.first_adjustment.reset();
    state_.as_found.clear();
    state_.seals_broken.clear();
    state_.seals_applied.clear();
    state_.occasion_line = -1;
    state_.weather.clear();
    state_.counters.clear();
    state_.settings.clear();
    // Steps of an installation stay done; those of a visit begin anew.
    for (const char* const name :
         {"locked_out", "mended", "tested", "handed_over", "exercised", "panels_on", "rods_slack",
          "nothing_touches", "nobody_on_deck", "warm", "same_meter", "balance_accepted"}) {
      state_.ticks.erase(name);
    }
  }

  void take_tick(int line, const Draft& words) {
    const std::string name(field(words.fields, "name"));
    const bool on = field(words.fields, "on") != "no";
    state_.ticks[name] = {
        .on = on, .line = line, .remark = std::string(field(words.fields, "remark"))};
    if (on) vouch(name);
    if (!on) taken_back_[name] = state_.events.size();
    if (name == "grouted") state_.grouted_line = on ? line : -1;
    if (name == "cured") state_.cured_line = on ? line : -1;
    if (name == "restraints_set") state_.restraints_line = on ? line : -1;
    if (name == "mended" && on) {
      state_.mended_line = line;
      adjusted(line);
    }
  }

  void take_measurement(int line, const Draft& words) {
    if (!state_.deck) return;
    const deck::Deck& deck = *state_.deck->deck;
    record::ParsedMeasurement parsed = record::parse_measurement(
        field(words.fields, "text"), source_name(line + 1, field(words.fields, "file")),
        static_cast<int>(deck.sections.size()), static_cast<int>(deck.joints.size()));
    state_.faults.insert(state_.faults.end(), parsed.faults.begin(), parsed.faults.end());
    if (!parsed.value) return;
    if (moves_something(*parsed.value)) {
      adjusted(line);
    } else if (!state_.first_adjustment && !is_any<record::WeightSet>(*parsed.value)) {
      state_.as_found.push_back(line);
    }
    const bool loads = is_any<record::ShiftSet, record::LoadSet, record::ProofSet>(*parsed.value);
    if (loads && !state_.may_load()) state_.loads_on_ungrouted.push_back(line);
    state_.event_of_line.emplace(line, static_cast<int>(state_.events.size()));
    if (moves_something(*parsed.value)) vouched_from_ = state_.events.size() + 1;
    state_.events.push_back(
        {.line = line, .what = std::move(*parsed.value), .unmet = unmet_conditions()});
  }

  [[nodiscard]] std::vector<std::string> unmet_conditions() const {
    std::vector<std::string> unmet;
    for (const TickRule& rule : ticks()) {
      if (rule.condition && !state_.ticked(std::string(rule.name))) unmet.emplace_back(rule.name);
    }
    return unmet;
  }

  /// A tick speaks of what was read since something was moved last, too: "nobody was on the deck
  /// while it was read" is ticked when it was read.
  void vouch(const std::string& condition) {
    for (std::size_t i = std::max(vouched_from_, taken_back_[condition]); i < state_.events.size();
         ++i) {
      std::erase(state_.events[i].unmet, condition);
    }
  }

  void adjusted(int line) {
    if (!state_.first_adjustment) state_.first_adjustment = line;
  }

  void find_late_corrections() {
    if (!state_.first_adjustment) return;
    for (const int line : state_.as_found) {
      for (const int by : state_.history.lines[at(line)].by) {
        if (by > *state_.first_adjustment) state_.as_found_corrected.push_back(by);
      }
    }
  }

  /// Of a move here and a reading there, made apart, nobody knows which came first.
  void find_moves_apart() {
    if (!several_devices()) return;
    for (const Event& move : state_.events) {
      if (!moves_something(move.what)) continue;
      bool reading = false;
      // One reading is enough to be looked at; each table of results is asked about, for what is
      // not known of one doubts the verdict.
      for (const Event& other : state_.events) {
        if (!is_apart(move, other)) continue;
        const bool result = is_any<record::ProofSet>(other.what);
        if (!result && reading) continue;
        add_conflict(state_.history, Conflict::Kind::order, move.line, other.line);
        reading = reading || !result;
      }
    }
  }

  [[nodiscard]] bool is_apart(const Event& move, const Event& other) const {
    if (other.line == move.line || is_any<record::WeightSet>(other.what)) return false;
    const record::Entry& moved = state_.history.lines[at(move.line)].entry;
    const record::Entry& read = state_.history.lines[at(other.line)].entry;
    return moved.stamp.device != read.stamp.device && made_apart(moved, read);
  }

  [[nodiscard]] bool several_devices() const {
    const auto& lines = state_.history.lines;
    return std::any_of(lines.begin(), lines.end(), [&](const Line& line) {
      return line.entry.stamp.device != lines.front().entry.stamp.device;
    });
  }

  std::size_t vouched_from_ = 0;  // first event that a tick of a condition still speaks of
  std::map<std::string, std::size_t> taken_back_;  // the same, of a condition that was unticked
  SiteState& state_;
  std::map<std::string, std::string> setting_values_;  // as last written down
};

}  // namespace

std::optional<int> SiteState::passed_over() const {
  const auto tick = ticks.find("nothing_found");
  if (tick == ticks.end() || !tick->second.on) return {};
  int ends =
      std::max({grouted_line, cured_line, cell_line, mended_line, restraints_line, visit_line});
  for (const Event& event : events) {
    const bool load = std::holds_alternative<record::ShiftSet>(event.what);
    if (!load || event.line < visit_line) continue;
    ends = std::max(ends, event.line);
    break;
  }
  if (tick->second.line < ends) return {};
  return tick->second.line;
}

int SiteState::last_adjustment() const {
  int last = std::max({span_line, cell_line, mended_line});
  for (const Event& event : events) {
    if (moves_something(event.what)) last = std::max(last, event.line);
  }
  return last;
}

std::string source_name(int number, std::string_view file) {
  return fmt::format("entry {} ({})", number, file);
}

SiteState site_state_of(std::vector<Kept> kept) {
  SiteState state;
  state.history = history_of(std::move(kept));
  Folder(state).fold();
  return state;
}

}  // namespace weighwright::job
