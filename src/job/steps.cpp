#include "job/steps.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>
#include <variant>

#include "job/action_words.h"
#include "job/before_moves.h"
#include "job/cause_action.h"
#include "job/deck_words.h"
#include "job/test_step.h"
#include "job/ticks.h"
#include "signal/cell.h"

namespace weighwright::job {
namespace {

using diagnose::Adjustment;

constexpr double kFarFromPapers = 0.003;  // cells' papers are good to about 0.1 %
constexpr double kSigmas = 4.0;           // of the difference of two readings, one stand among many

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Builds the steps one after the other; the first that is open gives the action.
class Graph {
 public:
  Graph(const SiteState& state, const SiteAdvice& advice) : state_(state), advice_(advice) {
    digital_ = state.deck->deck->is_digital();
  }

  Progress build() {
    arrive();
    if (state_.service) {
      as_found();
    } else {
      receive();
      tick_step("set_down", "Set down and joined", "set_down");
      wire();
      dress();
    }
    find_cause();
    share();
    if (!state_.service) fix();
    trim();
    span();
    prove();
    hand_over();
    choose();
    return std::move(progress_);
  }

 private:
  // ------------------------------------------------------------------------- the parts of a graph

  Step& add(std::string code, std::string name) {
    Step step;
    step.code = std::move(code);
    step.name = std::move(name);
    progress_.steps.push_back(std::move(step));
    actions_.emplace_back();
    return progress_.steps.back();
  }

  void done(Step& step, std::string why, std::vector<int> lines) {
    step.state = StepState::done;
    step.why = std::move(why);
    step.lines = std::move(lines);
  }

  void open(Step& step, std::string why, Action action, std::vector<int> lines = {}) {
    step.state = StepState::open;
    step.why = std::move(why);
    step.lines = lines;
    action.lines = std::move(lines);
    add_deck_words(*state_.deck->deck, action);
    actions_.back() = std::move(action);
  }

  void blocked(Step& step, std::string why, std::vector<int> lines = {}) {
    step.state = StepState::blocked;
    step.why = std::move(why);
    step.lines = std::move(lines);
  }

  [[nodiscard]] std::vector<int> line_of(const std::string& tick) const {
    const auto found = state_.ticks.find(tick);
    return found == state_.ticks.end() ? std::vector<int>{} : std::vector{found->second.line};
  }

  void tick_step(const std::string& code,
                 const std::string& name,
                 const std::string& tick,
                 const std::string& waits = "") {
    Step& step = add(code, name);
    if (state_.ticked(tick)) {
      done(step, "Ticked.", line_of(tick));
    } else if (!waits.empty()) {
      blocked(step, waits);
    } else {
      open(step, "Not ticked.", tick_action(code, tick));
    }
  }

  [[nodiscard]] const Step* find(const std::string& code) const {
    for (const Step& step : progress_.steps) {
      if (step.code == code) return &step;
    }
    return nullptr;
  }

  /// Why a later step must wait for this one; empty: it is done or not needed.
  [[nodiscard]] std::string waits_for(const std::string& code) const {
    const Step* const step = find(code);
    if (step == nullptr || step->state == StepState::done || step->state == StepState::not_needed) {
      return "";
    }
    return step->name + " comes first.";
  }

  // --------------------------------------------------------------------------------- the steps

  void arrive() {
    Step& step = add("arrive", "Arrived, traffic kept off");
    if (state_.ticked("locked_out")) {
      done(step, "Ticked.", line_of("locked_out"));
    } else {
      open(step, "Traffic may still come.", tick_action("arrive", "locked_out"));
    }
  }

  template <class Set>
  [[nodiscard]] std::vector<int> measured() const {
    std::vector<int> lines;
    for (const Event& event : state_.events) {
      if (event.line > state_.visit_line && std::holds_alternative<Set>(event.what)) {
        lines.push_back(event.line);
      }
    }
    return lines;
  }

  void as_found() {
    Step& step = add("as_found", "As found");
    const std::vector<int> cells = measured<record::ReadingSet>();
    const std::vector<int> corners = measured<record::ShiftSet>();
    if (state_.first_adjustment) {
      done(step,
           fmt::format("Frozen by entry {}; {} measurements before it.",
                       *state_.first_adjustment + 1, state_.as_found.size()),
           state_.as_found);
    } else if (!cells.empty() && !corners.empty()) {
      done(step, "Cells and corners were read before anything was moved.", state_.as_found);
    } else {
      open(step, "Nothing may be touched before it is read as it was found.",
           as_found_action(digital_, !cells.empty(), !corners.empty()), state_.as_found);
    }
  }

  void receive() {
    Step& step = add("receive", "Received: cells read with no load");
    std::set<int> stands;
    std::vector<int> lines;
    for (const Event& event : state_.events) {
      const std::size_t before = stands.size();
      if (const auto* set = std::get_if<record::ElectricSet>(&event.what)) {
        for (const auto& [stand, cell] : set->stands) {
          if (cell.zero_mV) stands.insert(stand.value);
        }
      }
      if (const auto* set = std::get_if<record::ReadingSet>(&event.what)) {
        for (const auto& reading : set->stands) {
          if (reading.no_load) stands.insert(reading.stand.value);
        }
      }
      if (stands.size() > before) lines.push_back(event.line);
    }
    const std::size_t all = state_.deck->deck->stands.size();
    if (stands.size() == all) {
      done(step, "Every cell was read with no load.", lines);
    } else if (state_.ticked("received")) {
      done(step, "Ticked; cells were not all read with no load, so a hidden load stays hidden.",
           line_of("received"));
    } else {
      open(step, fmt::format("{} of {} cells were read with no load.", stands.size(), all),
           no_load_action(digital_), lines);
    }
  }

  void wire() {
    Step& step = add("wire", "Wired, map of readings proven");
    if (advice_.map.proven) {
      done(step, "Every stand was loaded in turn.", advice_.map.lines);
    } else if (!advice_.map.exchanged.empty()) {
      open(step, "Cells are on each other's terminals or addresses.", exchanged_map(),
           advice_.map.lines);
    } else if (!state_.ticked("wired") && !advice_.share_evidence.anything) {
      open(step, "Not ticked.", tick_action("wire", "wired"));
    } else {
      open(step, "Which reading belongs to which stand is not proven.", map_wanted(),
           line_of("wired"));
    }
  }

  [[nodiscard]] Action exchanged_map() const {
    std::string stands;
    for (const auto& [loaded, moved] : advice_.map.exchanged) {
      stands += fmt::format("{}{} moved the reading of {}", stands.empty() ? "" : ", ",
                            units::print(loaded), units::print(moved));
    }
    return exchanged_action(stands);
  }

  [[nodiscard]] Action map_wanted() const {
    return advice_.map.exchanged.empty() ? map_action(state_.may_load()) : exchanged_map();
  }

  [[nodiscard]] std::vector<std::string> missing_conditions() const {
    std::vector<std::string> missing;
    for (const TickRule& rule : ticks()) {
      const std::string name(rule.name);
      if (rule.condition && !state_.ticked(name)) missing.push_back(name);
    }
    return missing;
  }

  void dress() {
    Step& step = add("dress", "Dressed: conditions of a good reading");
    const std::vector<std::string> missing = missing_conditions();
    std::vector<int> lines;
    for (const TickRule& rule : ticks()) {
      if (!rule.condition) continue;
      for (const int line : line_of(std::string(rule.name))) lines.push_back(line);
    }
    if (missing.empty()) {
      done(step, "All ticked.", lines);
      return;
    }
    std::string list;
    for (const std::string& name : missing) list += (list.empty() ? "" : ", ") + name;
    open(step, "Not ticked: " + list + ".", conditions_action(missing), lines);
  }

  void find_cause() {
    if (!advice_.diagnosis) return;
    const diagnose::Diagnosis& found = *advice_.diagnosis;
    if (!found.hold) {
      if (!state_.service) return;
      Step& step = add("find_cause", "Cause");
      done(step, "Nothing was found that must be mended first.", advice_.diagnosis_lines);
      return;
    }
    Step& step = add("find_cause", "Find the cause first");
    if (const auto tick = state_.passed_over()) {
      done(step, "Looked for and not found: " + state_.ticks.at("nothing_found").remark, {*tick});
      return;
    }
    open(step, cause_sentence(*state_.deck->deck, found),
         find_cause_action(*state_.deck->deck, found), advice_.diagnosis_lines);
  }

  /// Empty when no fault holds this adjustment.
  [[nodiscard]] std::string held(std::initializer_list<Adjustment> kinds) const {
    if (state_.passed_over()) return "";
    for (const Adjustment kind : kinds) {
      if (advice_.holds(kind))
        return "A fault is open that no adjustment mends: find the cause first.";
    }
    return "";
  }

  void share() {
    Step& step = add("share", "Dead-load balance");
    const Evidence& evidence = advice_.share_evidence;
    if (!evidence.anything && state_.service) {
      step.state = StepState::not_needed;
      step.why = "Cells were not read one by one at this visit.";
      return;
    }
    const std::string hold = held({state_.grouted() ? Adjustment::shims : Adjustment::screws});
    if (state_.ticked("balance_accepted")) {
      done(step,
           "Left and right differ, and that is accepted: " +
               state_.ticks.at("balance_accepted").remark,
           line_of("balance_accepted"));
      return;
    }
    if (!evidence.anything && state_.cured_line >= 0) {
      done(step, "Done before the grout; what the grout did is looked at under Fix.", {});
      return;
    }
    if (!evidence.anything || evidence.moved_last) {
      open(step,
           evidence.moved_last ? "Something was moved since the last reading."
                               : "Cells were not read.",
           read_cells_action("share", digital_, evidence.moved_last),
           evidence.anything ? evidence.lines : std::vector<int>{});
      return;
    }
    if (!advice_.share.view) {
      open(step,
           advice_.share.faults.empty() ? "The readings can't be used."
                                        : units::print(advice_.share.faults.front()),
           read_cells_action("share", digital_, true), evidence.lines);
      return;
    }
    judge_share(step, *advice_.share.view, hold);
  }

  void judge_share(Step& step, const report::ShareView& view, const std::string& hold) {
    const std::vector<int>& lines = advice_.share_evidence.lines;
    if (view.done) {
      done(step, view.headline + " " + view.verdict, lines);
      return;
    }
    if (!hold.empty()) {
      blocked(step, hold, lines);
      return;
    }
    if (!view.moves.empty() && !advice_.map.proven) {
      // A turn at a stand whose reading is another's would double the error.
      const std::string why = "Before anything is turned: which reading belongs to which stand?";
      open(step, why, map_wanted(), lines);
      return;
    }
    Action action;
    action.step = "share";
    action.code =
        view.moves.empty() ? (view.asks.empty() ? "no_move" : "measure_first") : "move_stands";
    action.detail = Detail::share;
    action.then_type = "job add JOB turns.csv";
    if (view.moves.empty()) {
      action.headline = view.asks.empty()
                            ? "No screw or shim mends this: look where the answer below says"
                            : view.asks.front().sentence;
      action.then_type = "job add JOB found.csv";
      action.how.emplace_back(
          "Where the difference is known and accepted: weighwright job add JOB --tick "
          "balance_accepted --remark \"why\".");
    } else {
      action.headline = fmt::format("Move {} stand{}, then read again", view.moves.size(),
                                    view.moves.size() == 1 ? "" : "s");
      for (const report::MoveView& move : view.moves) action.how.push_back(move.instruction);
      action.cautions = {jacking_caution()};
    }
    open(step, view.headline + " " + view.verdict, std::move(action), lines);
  }

  void fix() {
    Step& step = add("fix", "Fixed: grouted, exercised, restraints set");
    const std::string waits = waits_for("share");
    for (const char* const tick : {"grouted", "cured", "anchors_tight", "exercised"}) {
      if (state_.ticked(tick)) continue;
      if (!waits.empty() && !state_.ticked("grouted")) {
        blocked(step, waits);
      } else {
        open(step, "Not ticked: " + std::string(tick) + ".", tick_action("fix", tick));
      }
      return;
    }
    if (!advice_.share_evidence.anything) {
      open(step, "The grout moves the deck: every cell is read again.",
           read_cells_action("fix", digital_, true), line_of("cured"));
      return;
    }
    if (!waits.empty()) {
      blocked(step, waits);
      return;
    }
    if (!state_.ticked("restraints_set")) {
      open(step, "Not ticked: restraints_set.", tick_action("fix", "restraints_set"));
      return;
    }
    check_restraints(step);
  }

  void check_restraints(Step& step) {
    const bool read_after =
        std::any_of(state_.events.begin(), state_.events.end(), [&](const Event& event) {
          return event.line > state_.restraints_line &&
                 std::holds_alternative<record::ReadingSet>(event.what);
        });
    if (!read_after) {
      open(step, "Restraints were set; every cell must read as before.",
           read_cells_action("fix", digital_, true), line_of("restraints_set"));
      return;
    }
    const std::vector<units::StandIndex> moved = moved_by_restraints(state_);
    if (moved.empty()) {
      done(step, "Grout carries, the deck was exercised, restraints move nothing.",
           line_of("restraints_set"));
      return;
    }
    std::string stands;
    for (const units::StandIndex stand : moved) {
      stands += (stands.empty() ? "" : ", ") + units::print(stand);
    }
    Action action = read_cells_action("fix", digital_, true);
    action.code = "restraints_again";
    action.headline = "Slacken and set the restraint at " + stands + " again, level and in line";
    action.how.insert(action.how.begin(),
                      "A rod out of level puts part of its thrust into the weight. Then read every "
                      "cell again.");
    open(step, "Setting the restraints moved the reading of " + stands + ".", std::move(action),
         line_of("restraints_set"));
  }

  void trim() {
    Step& step = add("trim", "Corner adjustment");
    if (!state_.may_load()) {
      blocked(step, "No load on a deck whose grout does not carry.", state_.loads_on_ungrouted);
      return;
    }
    const std::string waits = state_.service ? waits_for("share") : waits_for("fix");
    const Evidence& evidence = advice_.trim_evidence;
    const std::string hold = held({Adjustment::trims});
    if (evidence.anything && advice_.trim_done() && waits.empty()) {
      done(step, advice_.trim.view->headline + " " + advice_.trim.view->verdict, evidence.lines);
      return;
    }
    if (!waits.empty() || !hold.empty()) {
      blocked(step, waits.empty() ? hold : waits, evidence.lines);
      return;
    }
    if (!evidence.anything || evidence.moved_last) {
      open(step,
           evidence.moved_last ? "Trims were moved since the last reading." : "No corner was read.",
           evidence.moved_last ? read_corners_again() : corners_action(false), evidence.lines);
      return;
    }
    if (!advice_.trim.view) {
      open(step,
           advice_.trim.faults.empty() ? "The readings can't be used."
                                       : units::print(advice_.trim.faults.front()),
           corners_action(true), evidence.lines);
      return;
    }
    const report::TrimView& view = *advice_.trim.view;
    if (view.learn || !view.trims.empty()) {
      if (!advice_.map.proven) {
        open(step, "Before a trim is moved: which reading belongs to which stand?", map_wanted(),
             evidence.lines);
        return;
      }
      const std::string worst = furthest_off(view);
      const std::vector<std::string> unread = unread_before_trims(evidence, worst);
      if (!unread.empty()) {
        Action action = unread_action(unread);
        action.place = worst;
        open(step, "Before a trim is moved, what stands hide is read.", std::move(action),
             evidence.lines);
        return;
      }
    }
    Action action;
    action.step = "trim";
    action.code = view.learn ? "learn_trim" : view.trims.empty() ? "no_trim" : "trims";
    action.detail = Detail::trim;
    action.headline = trim_headline(view);
    if (view.learn) action.how.push_back(*view.learn);
    for (const report::TrimSettingView& trim : view.trims) action.how.push_back(trim.instruction);
    action.cautions = {load_caution()};
    action.then_type = "job add JOB trims.csv";
    open(step, view.headline + " " + view.verdict, std::move(action), evidence.lines);
  }

  /// Without the full stop that a verdict ends with.
  [[nodiscard]] static std::string plain(std::string text) {
    if (text.ends_with('.')) text.pop_back();
    return text;
  }

  [[nodiscard]] static std::string furthest_off(const report::TrimView& view) {
    const auto worst = std::max_element(
        view.points.begin(), view.points.end(),
        [](const auto& a, const auto& b) { return std::abs(a.error_kg) < std::abs(b.error_kg); });
    return worst == view.points.end() ? "" : worst->at;
  }

  [[nodiscard]] static std::string trim_headline(const report::TrimView& view) {
    if (view.learn) return "Turn the trim of " + view.learn_trim + ", the load staying there";
    if (!view.trims.empty()) {
      return fmt::format("Set {} trim{}, then read every place again", view.trims.size(),
                         view.trims.size() == 1 ? "" : "s");
    }
    return plain(view.headline);
  }

  /// After one trim was turned to learn what it does, the load still stands there.
  [[nodiscard]] Action read_corners_again() const {
    Action action = corners_action(true);
    for (auto event = advice_.trim_evidence.events.rbegin();
         event != advice_.trim_evidence.events.rend(); ++event) {
      const auto* const trims = std::get_if<record::TrimSet>(&*event);
      if (trims == nullptr) continue;
      const record::TrimMove& move = trims->moves.front();
      if (trims->moves.size() > 1 || move.place.is_section) break;
      action.headline = "Read again with the load over " + units::print(move.place.stand);
      action.place = units::print(move.place.stand);
      break;
    }
    return action;
  }

  [[nodiscard]] std::string span_open() const { return waits_for("span"); }

  void span() {
    Step& step = add("span", "Span");
    const Evidence& evidence = advice_.span_evidence;
    const std::string waits = waits_for("trim");
    const std::string hold = held({Adjustment::span});
    if (!waits.empty() || !hold.empty()) {
      blocked(step, waits.empty() ? hold : waits, evidence.lines);
      return;
    }
    if (!evidence.anything) {
      open(step,
           evidence.moved_last ? "Something was moved or set since known loads were read."
                               : "No known load was read.",
           loads_action(evidence.moved_last), evidence.lines);
      return;
    }
    if (!advice_.span.view) {
      open(step,
           advice_.span.faults.empty() ? "The readings can't be used."
                                       : units::print(advice_.span.faults.front()),
           loads_action(true), evidence.lines);
      return;
    }
    const report::SpanView& view = *advice_.span.view;
    if (view.done) {
      done(step, view.headline + " " + view.verdict, evidence.lines);
      return;
    }
    if (view.code == "set" && std::abs(view.slope - 1.0) > kFarFromPapers &&
        !supply_was_looked_at(state_)) {
      open(step, "Before the span is moved this far: is the supply sound?", supply_action(),
           evidence.lines);
      return;
    }
    Action action;
    action.step = "span";
    action.code = view.code == "set" ? "span" : "loads";
    action.detail = Detail::span;
    action.headline = view.code == "set" ? "Set the span" : plain(view.headline);
    action.how = view.steps;
    action.cautions = {load_caution()};
    action.then_type = "job add JOB --entry setting name=span value=... when=left";
    open(step, view.headline + " " + view.verdict, std::move(action), evidence.lines);
  }

  void take(Step& step, TestStep found) {
    if (found.state == StepState::open) {
      open(step, std::move(found.why), std::move(found.action), std::move(found.lines));
    } else if (found.state == StepState::done) {
      done(step, std::move(found.why), std::move(found.lines));
    } else {
      blocked(step, std::move(found.why), std::move(found.lines));
    }
  }

  /// Tested by the rulebook, here or (ticked) by other means.
  void prove() {
    if (state_.ticked("tested")) {
      tick_step("prove", "Test", "tested");
      return;
    }
    Step& step = add("prove", "Test");
    if (const std::string waits = span_open(); !waits.empty()) {
      blocked(step, waits);
      return;
    }
    take(step, test_step_of(state_, advice_.proof));
    if (step.state != StepState::done) return;
    take(add("report", "Report"), report_step_of(state_, advice_.proof));
  }

  void hand_over() {
    Step& step = add("hand_over", "Handed over");
    const std::string waits = waits_for("prove");
    if (state_.seals_broken.size() > state_.seals_applied.size() && state_.ticked("handed_over")) {
      open(step, "More seals were broken than applied.", tick_action("hand_over", "handed_over"),
           state_.seals_broken);
    } else if (state_.ticked("handed_over")) {
      done(step, "Ticked.", line_of("handed_over"));
    } else if (!waits.empty()) {
      blocked(step, waits);
    } else {
      open(step, "Not ticked.", tick_action("hand_over", "handed_over"));
    }
  }

  /// The first open step that nobody has gone past; safety and causes can't be gone past.
  void choose() {
    const int count = static_cast<int>(progress_.steps.size());
    for (int i = 0; i < count; ++i) {
      const Step& step = progress_.steps[at(i)];
      if (step.state != StepState::open) continue;
      const bool exchanged = step.code == "wire" && !advice_.map.exchanged.empty();
      const bool hard = exchanged || step.code == "arrive" || step.code == "find_cause" ||
                        step.code == "share" || step.code == "fix" || step.code == "as_found" ||
                        (step.code == "prove" && test_is_old());
      if (!hard && gone_past(i)) continue;
      progress_.next = actions_[at(i)];
      return;
    }
    progress_.next.code = "nothing";
    progress_.next.headline = "Nothing is open";
    progress_.next.how = {
        "When somebody comes back: job add JOB --entry visit reason=service, then as found."};
  }

  /// Something was adjusted after the test: whoever handed the scale over can't have known.
  [[nodiscard]] bool test_is_old() const {
    return advice_.proof.verdict && advice_.proof.verdict->outcome == "refused";
  }

  [[nodiscard]] bool gone_past(int step) const {
    for (int i = step + 1; i < static_cast<int>(progress_.steps.size()); ++i) {
      const Step& later = progress_.steps[at(i)];
      if (!later.lines.empty() && later.code != "dress") return true;
    }
    return false;
  }

  const SiteState& state_;
  const SiteAdvice& advice_;
  bool digital_ = false;
  Progress progress_;
  std::vector<Action> actions_;
};

/// Noise of a reading in its own unit.
double noise_of(const deck::Deck& deck,
                record::ReadingUnit unit,
                const record::StandReading& reading) {
  if (reading.noise) return *reading.noise;
  const deck::Cell& cell = deck.stands[at(reading.stand.value)].cell;
  const double excitation_V = reading.excitation_V.value_or(deck.excitation_V);
  const auto newtons =
      signal::newtons_per_unit(cell, unit, excitation_V, deck.site.gravity_m_per_s2);
  if (!newtons || *newtons == 0.0) return 0.0;
  return deck.sharing.noise_V / signal::sensitivity_V_per_N(cell, excitation_V) / *newtons;
}

Progress without_deck(const SiteState& state) {
  Progress progress;
  Step step;
  step.code = "describe";
  step.name = "Deck described";
  step.why = state.deck_line < 0 || state.faults.empty() ? "No deck was described."
                                                         : units::print(state.faults.front());
  if (state.deck_line >= 0) step.lines = {state.deck_line};
  progress.steps.push_back(step);
  progress.next.step = "describe";
  progress.next.code = "describe";
  progress.next.headline = "Describe the deck";
  progress.next.how = {"weighwright new deck.toml asks eight questions and writes the file."};
  progress.next.then_type = "job add JOB deck.toml";
  return progress;
}

}  // namespace

Progress progress_of(const SiteState& state, const SiteAdvice& advice) {
  if (!state.deck) return without_deck(state);
  return Graph(state, advice).build();
}

std::vector<units::StandIndex> moved_by_restraints(const SiteState& state) {
  const record::ReadingSet* before = nullptr;
  const record::ReadingSet* after = nullptr;
  for (const Event& event : state.events) {
    const auto* const set = std::get_if<record::ReadingSet>(&event.what);
    if (set == nullptr) continue;
    if (event.line < state.restraints_line) before = set;
    if (event.line > state.restraints_line) after = set;
  }
  std::vector<units::StandIndex> moved;
  if (before == nullptr || after == nullptr || before->unit != after->unit) return moved;
  for (std::size_t i = 0; i < after->stands.size(); ++i) {
    const double step = std::max(before->stands[i].resolution, after->stands[i].resolution);
    const double noise = std::max(noise_of(*state.deck->deck, before->unit, before->stands[i]),
                                  noise_of(*state.deck->deck, after->unit, after->stands[i]));
    const double own = std::hypot(noise, step / std::sqrt(12.0));
    const double change = std::abs(after->stands[i].value - before->stands[i].value);
    const double most = std::max(kSigmas * std::sqrt(2.0) * own, 2.0 * step);
    if (change > most * (1.0 + 1e-9)) moved.push_back(after->stands[i].stand);
  }
  return moved;
}

}  // namespace weighwright::job
