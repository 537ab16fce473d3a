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
#include "job/release.h"
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

bool is_load(const record::LoadReading& reading) {
  return reading.load_kg != 0.0 || !reading.material.empty();
}

bool has_passed(const record::ZeroReading& reading) {
  using After = record::ZeroReading::After;
  return reading.after == After::pass_1_to_2 || reading.after == After::pass_2_to_1;
}

/// Whether something stood on the deck, or drove over it, for this to be read.
bool loads_the_deck(const Measurement& what) {
  if (const auto* set = std::get_if<record::ShiftSet>(&what)) {
    return std::any_of(set->readings.begin(), set->readings.end(), is_load);
  }
  if (const auto* set = std::get_if<record::LoadSet>(&what)) {
    return std::any_of(set->readings.begin(), set->readings.end(), is_load);
  }
  if (const auto* set = std::get_if<record::ProofSet>(&what)) {
    return std::any_of(set->readings.begin(), set->readings.end(),
                       [](const auto& one) { return one.check != "zero" && is_load(one.reading); });
  }
  const auto* const zeros = std::get_if<record::ZeroSet>(&what);
  return zeros != nullptr &&
         std::any_of(zeros->readings.begin(), zeros->readings.end(), has_passed);
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
  /// The deck as described last is the one that everything is read with. One that can't be read
  /// (merged in, or of a later version) is told, and the one before it holds.
  void find_deck() {
    for (int i = static_cast<int>(state_.history.lines.size()) - 1; i >= 0; --i) {
      if (!state_.history.counts(i) || state_.history.words(i).kind != "deck") continue;
      const Draft& words = state_.history.words(i);
      if (state_.deck_line < 0) state_.deck_line = i;
      LoadedDeck loaded = load_deck({.name = source_name(i + 1, field(words.fields, "file")),
                                     .text = std::string(field(words.fields, "text"))});
      state_.faults.insert(state_.faults.end(), loaded.faults.begin(), loaded.faults.end());
      if (!loaded.ok()) continue;
      state_.deck_line = i;
      state_.deck = std::move(loaded);
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
    end_clearance();
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
    end_clearance();
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
    if (words.kind == "clearance") {
      state_.clearance_line = line;
      moved_since_clearance_ = false;
    }
    if (words.kind == "release") take_release(line, words);
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
    if (words.kind == "rules_confirmed") state_.rules_confirmed.push_back(line);
    if (words.kind == "party") state_.parties[std::string(field(words.fields, "role"))] = line;
    if (words.kind == "report_issued") state_.reports.push_back(line);
    if (words.kind == "weather") state_.weather.push_back(line);
    if (words.kind == "counter") state_.counters.push_back(line);
  }

  /// What an installation still owes is owed whatever the next visit is called. A visit that
  /// installs after one of service begins a new installation.
  void begin_visit(int line, const Draft& words) {
    const bool first = state_.visit_line < 0;
    const bool service = field(words.fields, "reason") == "service";
    const bool finished = installation_finished();
    state_.called_service_line = -1;
    if (service && first && line == first_but_deck()) state_.install_line = -1;
    if (!service && state_.service) begin_installation(line);
    if (service && state_.install_line >= 0 && finished) {
      state_.fixed = true;
      state_.uncleared_grout_line = -1;
    }
    const bool goes_on = service && state_.install_line >= 0 && !state_.fixed;
    if (goes_on) state_.called_service_line = line;
    state_.visit_line = line;
    vouched_from_ = state_.events.size();
    state_.service = service && !goes_on;
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
         {"locked_out", "mended", "tested", "handed_over", "panels_on", "rods_slack",
          "nothing_touches", "nobody_on_deck", "warm", "same_meter", "balance_accepted"}) {
      state_.ticks.erase(name);
    }
    if (!goes_on) state_.ticks.erase("exercised");
  }

  /// The first line that counts and describes no deck: a journal may hold one before its visit.
  [[nodiscard]] int first_but_deck() const {
    const int count = static_cast<int>(state_.history.lines.size());
    for (int i = 0; i < count; ++i) {
      if (state_.history.counts(i) && state_.history.words(i).kind != "deck") return i;
    }
    return -1;
  }

  /// Released, and either handed over or everything done that fixes a deck.
  [[nodiscard]] bool installation_finished() const {
    if (!state_.may_load()) return false;
    if (state_.ticked("handed_over")) return true;
    return state_.has_stops() && state_.ticked("anchors_tight") && state_.ticked("exercised") &&
           state_.ticked("restraints_set");
  }

  void begin_installation(int line) {
    state_.install_line = line;
    state_.fixed = false;
    for (int* const known : {&state_.clearance_line, &state_.grouted_line,
                             &state_.uncleared_grout_line, &state_.cured_line, &state_.release_line,
                             &state_.first_release_line, &state_.restraints_line}) {
      *known = -1;
    }
    for (const char* const name :
         {"grouted", "cured", "anchors_tight", "stops_fitted", "restraints_set"}) {
      state_.ticks.erase(name);
    }
  }

  /// What a release lacks is refused when it is recorded; one that came with another copy, or whose
  /// grout was unticked since, opens nothing.
  void take_release(int line, const Draft& words) {
    const record::Stamp& said =
        state_.history.lines[at(state_.history.lines[at(line)].says)].entry.stamp;
    if (!release_lacks(state_, words.fields, said).empty()) {
      state_.releases_unfit.push_back(line);
      return;
    }
    if (!state_.is_released()) state_.first_release_line = line;
    state_.release_line = line;
  }

  void take_grouted(int line, bool on) {
    const bool cleared = state_.clearance_line >= 0 && !moved_since_clearance_;
    state_.grouted_line = on ? line : -1;
    state_.uncleared_grout_line = on && !cleared ? line : -1;
  }

  /// What was moved since a clearance needs another before grout. The grout that it was given for
  /// stays cleared.
  void end_clearance() {
    moved_since_clearance_ = true;
    if (state_.clearance_line > state_.grouted_line) state_.clearance_line = -1;
  }

  void take_tick(int line, const Draft& words) {
    const std::string name(field(words.fields, "name"));
    const bool on = field(words.fields, "on") != "no";
    state_.ticks[name] = {
        .on = on, .line = line, .remark = std::string(field(words.fields, "remark"))};
    if (on) vouch(name);
    if (!on) taken_back_[name] = state_.events.size();
    if (name == "grouted") take_grouted(line, on);
    if (name == "cured") state_.cured_line = on ? line : -1;
    if (name == "restraints_set") state_.restraints_line = on ? line : -1;
    if (name == "exercised" && on) loaded(line);
    if (name == "mended" && on) {
      state_.mended_line = line;
      end_clearance();
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
    if (loads_the_deck(*parsed.value)) loaded(line);
    if (is_any<record::TurnSet>(*parsed.value)) end_clearance();
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

  /// A load stood on the deck, allowed or not.
  void loaded(int line) {
    if (!state_.may_load()) {
      state_.loads_on_ungrouted.push_back(line);
    } else if (!state_.has_stops()) {
      state_.loads_before_stops.push_back(line);
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
  std::optional<deck::Deck> described_;                // as it stood described at this entry
  std::set<std::string> poured_;                       // marks, by entries
  CellBook cells_;
  bool moved_since_clearance_ = false;
};

}  // namespace

std::optional<int> SiteState::passed_over() const {
  const auto tick = ticks.find("nothing_found");
  if (tick == ticks.end() || !tick->second.on) return {};
  int ends = std::max({grouted_line, carries_since(), pour_line, cell_line, mended_line,
                       restraints_line, visit_line});
  for (const Event& event : events) {
    const bool load = std::holds_alternative<record::ShiftSet>(event.what);
    if (!load || event.line < visit_line) continue;
    ends = std::max(ends, event.line);
    break;
  }
  if (tick->second.line < ends) return {};
  return tick->second.line;
}

int SiteState::carries_since() const {
  // Of a deck that was grouted, what was said before that speaks of something else.
  int since = -1;
  for (const int line : {cured_line, first_release_line}) {
    if (line > grouted_line && (since < 0 || line < since)) since = line;
  }
  return since;
}

bool SiteState::balance_accepted() const {
  const auto tick = ticks.find("balance_accepted");
  if (tick == ticks.end() || !tick->second.on) return false;
  int moved = std::max({carries_since(), pour_line, cell_line, mended_line});
  for (const Event& event : events) {
    if (std::holds_alternative<record::TurnSet>(event.what)) moved = std::max(moved, event.line);
  }
  return tick->second.line > moved;
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
