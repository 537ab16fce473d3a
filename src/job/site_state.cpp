#include "job/site_state.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <variant>

#include "deck/reading/deck_file.h"
#include "job/deck_poured.h"
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
    stand_as_said();
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

  /// The deck as an entry described it; null where it can't be read.
  [[nodiscard]] std::optional<deck::Deck> described_by(int line, const Draft& words) const {
    if (line == state_.deck_line) {
      return state_.deck ? state_.deck->deck : std::nullopt;
    }
    return deck::parse_deck(field(words.fields, "text"), source_name(line + 1, "deck")).deck;
  }

  /// What stood there unpoured and is described as poured now was poured since.
  void describe(int line, const Draft& words) {
    std::optional<deck::Deck> now = described_by(line, words);
    if (!now) return;
    if (described_) {
      for (const std::string& mark : poured_between(*described_, *now)) {
        if (!poured_.contains(mark)) poured_at(line);
      }
    }
    if (cells_.describe(line, *now)) cell_changed(line);
    described_ = std::move(now);
  }

  void cell_changed(int line) {
    state_.cell_line = line;
    adjusted(line);
    end_ticks({"balance_accepted", "restraints_set", "tested"});
  }

  /// What was ticked of the deck as it stood before is to be done again.
  void end_ticks(std::initializer_list<const char*> names) {
    for (const char* const name : names) state_.ticks.erase(name);
    if (!state_.ticked("restraints_set")) state_.restraints_line = -1;
  }

  void tell(int line, const Draft& words, const std::string& what, const std::string& expected) {
    state_.faults.push_back({.file = source_name(line + 1, words.kind),
                             .line = 0,
                             .column = 0,
                             .what = what,
                             .expected = expected});
  }

  /// Which cell it is said of can't be known without a deck; that one was replaced is a fact.
  void take_cell(int line, const Draft& words) {
    if (words.kind == "cell_replaced") cell_changed(line);
    if (!described_) {
      tell(line, words, "no deck was described before it, so nobody knows the stand",
           "the deck first, then the entry anew");
      return;
    }
    const CellEntry entry = read_cell_entry(words, described_->stand_count());
    for (const CellEntry::Fault& fault : entry.faults) {
      tell(line, words, fault.what, fault.expected);
    }
    if (!entry.stand) return;
    if (cells_.take(line, entry)) cell_changed(line);
    state_.deck_changes.push_back(line);
  }

  void take_pour(int line, const Draft& words) {
    poured_at(line);
    if (!described_ && !state_.deck) return;
    const PourSaid said = pour_said(words, described_ ? *described_ : *state_.deck->deck);
    if (!said.what.empty()) tell(line, words, said.what, said.expected);
    poured_.insert(said.marks.begin(), said.marks.end());
    state_.deck_changes.push_back(line);
  }

  void poured_at(int line) {
    state_.pour_line = line;
    adjusted(line);
    end_ticks({"balance_accepted", "exercised", "restraints_set", "tested"});
  }

  /// The deck described last, with what entries say of it.
  void stand_as_said() {
    if (!state_.deck) return;
    state_.cells = cells_.stands();
    if (state_.deck_changes.empty()) return;
    pour(*state_.deck, poured_);
    cells_.put_into(*state_.deck);
    rebuild(*state_.deck, source_name(state_.deck_line + 1, "deck"));
    if (state_.deck->ok()) return;
    state_.faults.insert(state_.faults.end(), state_.deck->faults.begin(),
                         state_.deck->faults.end());
    state_.deck.reset();
  }

  void take(int line, const Draft& words) {
    if (words.kind == "deck") describe(line, words);
    if (words.kind == "pour") take_pour(line, words);
    if (words.kind == "visit") begin_visit(line, words);
    if (words.kind == "tick") take_tick(line, words);
    if (words.kind == "measurement") take_measurement(line, words);
    if (words.kind == "seal_broken") {
      state_.seals_broken.push_back(line);
      adjusted(line);
    }
    if (words.kind == "seal_applied") state_.seals_applied.push_back(line);
    if (is_cell_entry(words)) take_cell(line, words);
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
    state_.events.push_back({.line = line, .what = std::move(*parsed.value)});
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
      const record::Entry& moved = state_.history.lines[at(move.line)].entry;
      for (const Event& other : state_.events) {
        if (other.line == move.line) continue;
        const record::Entry& read = state_.history.lines[at(other.line)].entry;
        if (moved.stamp.device == read.stamp.device || !made_apart(moved, read)) continue;
        add_conflict(state_.history, Conflict::Kind::order, move.line, other.line);
        break;  // one is enough to be looked at
      }
    }
  }

  [[nodiscard]] bool several_devices() const {
    const auto& lines = state_.history.lines;
    return std::any_of(lines.begin(), lines.end(), [&](const Line& line) {
      return line.entry.stamp.device != lines.front().entry.stamp.device;
    });
  }

  SiteState& state_;
  std::map<std::string, std::string> setting_values_;  // as last written down
  std::optional<deck::Deck> described_;                // as it stood described at this entry
  std::set<std::string> poured_;                       // marks, by entries
  CellBook cells_;
};

}  // namespace

std::optional<int> SiteState::passed_over() const {
  const auto tick = ticks.find("nothing_found");
  if (tick == ticks.end() || !tick->second.on) return {};
  int ends = std::max(
      {grouted_line, cured_line, pour_line, cell_line, mended_line, restraints_line, visit_line});
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
  int last = std::max({span_line, pour_line, cell_line, mended_line});
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
