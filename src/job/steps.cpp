#include "job/steps.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>
#include <variant>

#include "job/action_words.h"
#include "job/as_found.h"
#include "job/before_moves.h"
#include "job/cause_action.h"
#include "job/clearance.h"
#include "job/deck_poured.h"
#include "job/deck_words.h"
#include "job/practice_remark.h"
#include "job/release.h"
#include "job/site_evidence.h"
#include "job/speak.h"
#include "job/test_step.h"
#include "job/ticks.h"
#include "signal/cell.h"

namespace weighwright::job {
namespace {

using diagnose::Adjustment;

constexpr const char* kNotReleased = "No load on a deck that is not released for load.";
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
    new_cells();
    find_cause();
    share();
    pour();
    if (!state_.service) clear();
    if (!state_.service || !state_.may_load()) release();
    if (!state_.service) fix();
    trim();
    span();
    prove();
    hand_over();
    wait_for_concrete();
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

  void as_found() {
    Step& step = add("as_found", "As found");
    const AsFoundRead read = as_found_read(state_);
    if (state_.first_adjustment) {
      done(step,
           fmt::format("Frozen by entry {}; {} measurements before it.",
                       *state_.first_adjustment + 1, state_.as_found.size()),
           state_.as_found);
    } else if (as_found_complete(state_, advice_)) {
      const bool corners = read.zero && read.corners;
      done(step,
           !corners     ? "A whole test by the rulebook was read before anything was moved."
           : read.cells ? "Cells and corners were read before anything was moved."
                        : "Zero and corners were read before anything was moved.",
           state_.as_found);
    } else if (!state_.may_load()) {
      blocked(step, kNotReleased, state_.as_found);
    } else {
      open(step, "Nothing may be touched before it is read as it was found.",
           as_found_action(digital_, read), state_.as_found);
    }
  }

  void receive() {
    Step& step = add("receive", "Received: cells read with no load");
    std::vector<int> lines;
    const std::size_t read = read_with_no_load(state_, &lines).size();
    const std::size_t all = state_.deck->deck->stands.size();
    const std::string nameless = nameless_words();
    if (read == all) {
      done(step, "Every cell was read with no load." + nameless, lines);
    } else if (state_.ticked("received")) {
      done(
          step,
          "Ticked; cells were not all read with no load, so a hidden load stays hidden." + nameless,
          line_of("received"));
    } else {
      Action action = no_load_action(digital_);
      if (!nameless.empty()) action.how.push_back(write_down_cells());
      open(step, fmt::format("{} of {} cells were read with no load.{}", read, all, nameless),
           std::move(action), lines);
    }
  }

  /// Which cells nobody wrote down; empty: all are. Nothing waits for it.
  [[nodiscard]] std::string nameless_words() const {
    const std::vector<std::string> stands = stands_without_serial(state_.cells);
    if (stands.empty()) return "";
    const bool none = stands.size() == state_.cells.size();
    return " Serial numbers of cells are not written down" +
           (none ? "." : ": " + all_of(stands) + ".");
  }

  /// A cell that was put in: read with nothing on it while that can be had, and its lead proven.
  /// The rest that it owes (cells, corners, loads, test) is asked for by the steps that own it.
  void new_cells() {
    const std::vector<std::string> put_in = put_in_now();
    const std::vector<std::string> unproven = leads_unproven();
    if (put_in.empty() && unproven.empty()) return;
    Step& step = add("new_cell", "New cells: read with no load, leads proven");
    const std::vector<int> lines =
        state_.cell_line < 0 ? std::vector<int>{} : std::vector{state_.cell_line};
    if (const std::vector<std::string> unread = not_read_empty(); !unread.empty()) {
      open(step, "Not read with no load since it was put in: " + all_of(unread) + ".",
           new_cell_action(no_load_action(digital_), unread), lines);
    } else if (!unproven.empty()) {
      open(step,
           "Which reading belongs to it is not proven since a cell or lead was changed: " +
               all_of(unproven) + ".",
           new_cell_action(map_action(state_.may_load()), unproven), lines);
    } else {
      done(step, "Put in and proven: " + all_of(put_in) + ".", lines);
    }
  }

  /// Stands whose cell was put in at this visit.
  [[nodiscard]] std::vector<std::string> put_in_now() const {
    std::vector<std::string> names;
    for (std::size_t i = 0; i < state_.cells.size(); ++i) {
      if (state_.cells[i].cell_from < 0 || state_.cells[i].cell_from < state_.visit_line) continue;
      names.push_back(units::print(units::StandIndex{static_cast<int>(i)}));
    }
    return names;
  }

  /// Of these, whose value with nothing on it can still be had and was not.
  [[nodiscard]] std::vector<std::string> not_read_empty() const {
    const std::set<int> read = read_with_no_load(state_);
    const auto tick = state_.ticks.find("received");
    std::vector<std::string> names;
    for (const std::string& name : put_in_now()) {
      const int stand = units::parse_stand(name)->value;
      const int from = state_.cells[at(stand)].cell_from;
      const bool passed = tick != state_.ticks.end() && tick->second.line > from;
      if (!read.contains(stand) && !passed && !stood_on(from)) names.push_back(name);
    }
    return names;
  }

  /// The deck was read or loaded since: it stands on its cells again, and nothing is had of them
  /// with no load without lifting it.
  [[nodiscard]] bool stood_on(int line) const {
    return std::any_of(state_.events.begin(), state_.events.end(), [&](const Event& event) {
      return event.line > line && (std::holds_alternative<record::ReadingSet>(event.what) ||
                                   std::holds_alternative<record::ShiftSet>(event.what) ||
                                   std::holds_alternative<record::MapSet>(event.what));
    });
  }

  /// Stands whose lead was moved at this visit and not proven since.
  [[nodiscard]] std::vector<std::string> leads_unproven() const {
    std::vector<std::string> names;
    for (const units::StandIndex stand : advice_.map.unproven) {
      const int from = state_.cells[at(stand.value)].lead_from;
      if (from >= 0 && from >= state_.visit_line) names.push_back(units::print(stand));
    }
    return names;
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
    return advice_.map.exchanged.empty() ? map_action(state_.vehicle_may_come()) : exchanged_map();
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
    if (!evidence.anything && half_poured()) {
      blocked(step, "Some of the concrete is poured and some is not: read and balance when all is.",
              {state_.pour_line});
      return;
    }
    const int another = state_.another_deck_line();
    if (!evidence.anything && state_.service && another <= state_.visit_line) {
      step.state = StepState::not_needed;
      step.why = "Cells were not read one by one at this visit.";
      if (!digital_) step.why += " " + offer_to_open(why_open(advice_));
      return;
    }
    const std::string hold = held({state_.grouted() ? Adjustment::shims : Adjustment::screws});
    if (!state_.service && wait_for_grout(step)) return;
    if (state_.balance_accepted()) {
      done(step,
           "Left and right differ, and that is accepted: " +
               state_.ticks.at("balance_accepted").remark,
           line_of("balance_accepted"));
      return;
    }
    if (!evidence.anything || evidence.moved_last) {
      ask_for_cells(step);
      return;
    }
    if (const auto stands = cells_not_known(); !advice_.share.view && !stands.empty()) {
      open(step,
           "The readings can't be judged: nobody knows the cell under " + all_of(stands) + ".",
           describe_cell_action("share", stands), evidence.lines);
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

  /// Grout moves the deck: what was read before it proves nothing after it, and nothing is jacked
  /// while it is fresh.
  bool wait_for_grout(Step& step) {
    const bool fresh = state_.grouted_line >= 0 && !state_.may_load();
    if (fresh && state_.uncleared_grout_line >= 0) {
      blocked(step,
              "Grouted without being cleared: the balance is owed. After the release every cell is "
              "read, and shims put right what is left.",
              {state_.uncleared_grout_line});
      return true;
    }
    if (!fresh && (!state_.is_released() || advice_.share_evidence.anything)) return false;
    blocked(step, "Grout and anchors move the deck: what they did is read after the release.", {});
    return true;
  }

  [[nodiscard]] std::vector<std::string> waiting_for_concrete() const {
    return unpoured(*state_.deck->deck);
  }

  [[nodiscard]] bool half_poured() const {
    return state_.pour_line >= 0 && !waiting_for_concrete().empty();
  }

  [[nodiscard]] std::vector<std::string> cells_not_known() const {
    std::vector<std::string> names;
    for (const units::StandIndex stand : stands_not_known(*state_.deck, record::ReadingUnit::mV)) {
      names.push_back(units::print(stand));
    }
    return names;
  }

  void ask_for_cells(Step& step) {
    const Evidence& evidence = advice_.share_evidence;
    const std::string old = why_old();
    Action action = read_cells_action("share", digital_, evidence.moved_last || !old.empty());
    if (evidence.moved_last) {
      open(step, "Something was moved since the last reading.", std::move(action), evidence.lines);
    } else if (old.empty()) {
      open(step, "Cells were not read.", std::move(action));
    } else {
      action.how.insert(action.how.begin(), old);
      open(step, old, std::move(action), {state_.another_deck_line()});
    }
  }

  /// Why readings of cells that are there do not count; empty: there are none, or it is the grout
  /// or a mended fault.
  [[nodiscard]] std::string why_old() const {
    const int another = state_.another_deck_line();
    const bool read =
        std::any_of(state_.events.begin(), state_.events.end(), [&](const Event& one) {
          return one.line < another && std::holds_alternative<record::ReadingSet>(one.what);
        });
    if (!read || another < state_.mended_line) return "";
    if (state_.cell_line > state_.pour_line) {
      return "Another cell was put in since the cells were read: it changes how the deck stands.";
    }
    return "Concrete was poured since the cells were read: the deck is heavier, and stiffer once "
           "it is hard. What was read before is of another deck.";
  }

  /// Asked for after the coarse balance; between two pours of one deck nothing is balanced.
  void pour() {
    const std::vector<std::string> marks = waiting_for_concrete();
    if (marks.empty() && state_.pour_line < 0) return;
    const std::string waits = waits_for("share");
    Step& step = add("pour", "Concrete poured");
    if (marks.empty()) {
      done(step, "Every concrete module is poured; readings before that are history.",
           {state_.pour_line});
    } else if (state_.pour_line < 0 && !waits.empty()) {
      blocked(step, waits);
    } else {
      open(step, "Not poured yet: " + all_of(marks) + ".", pour_action(marks));
    }
  }

  /// Nothing that comes after the pour is done on a deck that still waits for it.
  void wait_for_concrete() {
    const auto pour = std::find_if(progress_.steps.begin(), progress_.steps.end(),
                                   [](const Step& step) { return step.code == "pour"; });
    if (pour == progress_.steps.end() || pour->state == StepState::done) return;
    for (auto step = std::next(pour); step != progress_.steps.end(); ++step) {
      if (step->state != StepState::open) continue;
      step->state = StepState::blocked;
      step->why = pour->name + " comes first.";
    }
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

  void clear() {
    Step& step = add("clear", "Cleared for grout");
    if (state_.clearance_line >= 0 && state_.uncleared_grout_line < 0) {
      const record::Fields& words = state_.history.words(state_.clearance_line).fields;
      done(step, fmt::format("Cleared by {}, plates level both ways.", record::field(words, "by")),
           {state_.clearance_line});
    } else if (state_.uncleared_grout_line >= 0) {
      blocked(step, "Grouted without being cleared for it.", {state_.uncleared_grout_line});
    } else if (state_.is_released()) {
      step.state = StepState::not_needed;
      step.why = "Released without grout.";
    } else if (const std::string waits = waits_for("share"); !waits.empty()) {
      blocked(step, waits);
    } else if (!state_.balance_accepted() && !cells_read_here(state_, advice_)) {
      open(step, "The cells were not read at this visit.",
           read_cells_action("clear", digital_, true), advice_.share_evidence.lines);
    } else {
      open(step, "Nobody cleared it for grout.",
           clearance_action(pairs_in_words(state_, advice_, false)), advice_.share_evidence.lines);
    }
  }

  void release() {
    Step& step = add("release", "Grouted and released for load");
    if (state_.is_released()) {
      const record::Fields& words = state_.history.words(state_.release_line).fields;
      std::string why = "Released by " + release_words(words) + ".";
      if (is_practice(state_)) {
        why += " On a practice site time is played: the release was not compared with the clock.";
      }
      done(step, std::move(why), {state_.release_line});
    } else if (state_.grouted_line >= 0) {
      std::vector<int> lines = {state_.grouted_line};
      std::string why = "Grouted, and not released for load.";
      if (state_.cured_line > state_.grouted_line) {
        why = "Ticked cured, which opens nothing: a release names its grounds, and who says so.";
        lines.push_back(state_.cured_line);
      }
      open(step, why, release_action(), lines);
    } else if (state_.cured_line >= 0) {
      open(step, "Ticked cured, and nothing was ticked grouted: on what does it stand?",
           release_action(), {state_.cured_line});
    } else if (const std::string waits = waits_for("clear"); !waits.empty()) {
      blocked(step, waits);
    } else {
      open(step, "Not ticked: grouted.", tick_action("release", "grouted"));
    }
  }

  void fix() {
    Step& step = add("fix", "Fixed: grouted, exercised, restraints set");
    if (const std::string waits = waits_for("release"); !waits.empty()) {
      blocked(step, waits);
      return;
    }
    for (const char* const tick : {"anchors_tight", "stops_fitted", "exercised"}) {
      const bool has =
          std::string_view(tick) == "stops_fitted" ? state_.has_stops() : state_.ticked(tick);
      if (has) continue;
      open(step, "Not ticked: " + std::string(tick) + ".", tick_action("fix", tick));
      return;
    }
    if (!advice_.share_evidence.anything) {
      open(step,
           state_.grouted_line >= 0 ? "The grout moves the deck: every cell is read again."
                                    : "Anchors and vehicles move the deck: every cell is read "
                                      "again.",
           read_cells_action("fix", digital_, true), {state_.release_line});
      return;
    }
    const std::string waits = waits_for("share");
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
      done(step, "Released for load, the deck was exercised, restraints move nothing.",
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
      blocked(step, kNotReleased, state_.loads_on_ungrouted);
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

  /// Steps that a scale is not handed over without: what is left out of them is named.
  void find_left_open() {
    static const std::set<std::string> kRequired = {
        "as_found", "find_cause", "share", "release", "fix", "trim", "span", "prove", "report"};
    for (const Step& step : progress_.steps) {
      const bool open = step.state == StepState::open || step.state == StepState::blocked;
      if (open && kRequired.contains(step.code)) {
        progress_.left_open.push_back({.code = step.code, .name = step.name});
      }
    }
    if (state_.seals_broken.size() > state_.seals_applied.size()) {
      progress_.left_open.push_back({.code = "seals", .name = "More seals broken than applied"});
    }
  }

  /// Handed over, and what is left open was named.
  [[nodiscard]] bool handed_over_in_words() const {
    return state_.ticked("handed_over") && !state_.ticks.at("handed_over").remark.empty();
  }

  void hand_over() {
    find_left_open();
    Step& step = add("hand_over", "Handed over");
    const std::string waits = waits_for("prove");
    const std::string left = names_of(progress_.left_open);
    if (state_.ticked("handed_over") && left.empty()) {
      done(step, "Ticked.", line_of("handed_over"));
    } else if (handed_over_in_words()) {
      done(step, handed_over_open(state_, progress_), line_of("handed_over"));
    } else if (state_.ticked("handed_over")) {
      open(step, "Handed over, and nothing says of these that they are open: " + left + ".",
           hand_over_action(left), line_of("handed_over"));
    } else if (!waits.empty()) {
      blocked(step, waits);
    } else {
      open(step, left.empty() ? "Not ticked." : "Left open: " + left + ".", hand_over_action(left));
    }
  }

  [[nodiscard]] static Action hand_over_action(const std::string& left) {
    Action action = tick_action("hand_over", "handed_over");
    if (left.empty()) return action;
    action.remark_needed = true;
    action.how.push_back("Left open: " + left +
                         ". A remark names it and says why; it is printed on the papers.");
    action.then_type += " --remark \"...\"";
    return action;
  }

  /// The first open step that nobody has gone past; safety and causes can't be gone past.
  void choose() {
    const int count = static_cast<int>(progress_.steps.size());
    for (int i = 0; i < count; ++i) {
      const Step& step = progress_.steps[at(i)];
      if (step.state != StepState::open) continue;
      if (!is_hard(step) && gone_past(i)) continue;
      progress_.next = actions_[at(i)];
      return;
    }
    progress_.next.code = "nothing";
    progress_.next.headline = "Nothing is open";
    if (!progress_.left_open.empty()) {
      progress_.next.code = "left_open";
      // Of a scale that was handed over, which they are is told with every answer.
      const bool gone = state_.ticked("handed_over");
      progress_.next.headline = gone ? "Handed over with these left open" : "These are left open";
      if (!gone) {
        progress_.next.how.push_back("Left open: " + names_of(progress_.left_open) + ".");
      }
    }
    progress_.next.how.emplace_back(
        "When somebody comes back: job add JOB --entry visit reason=service, then as found.");
  }

  [[nodiscard]] bool is_hard(const Step& step) const {
    static const std::set<std::string> kHard = {"arrive", "find_cause", "new_cell", "share",
                                                "pour",   "clear",      "release",  "fix"};
    if (step.code == "wire") return !advice_.map.exchanged.empty();
    if (step.code == "prove") return test_is_old();
    // What nobody will read any more was named when it was handed over.
    if (step.code == "as_found") return !handed_over_in_words();
    return kHard.contains(step.code);
  }

  /// Something was adjusted after the test: whoever handed the scale over can't have known.
  [[nodiscard]] bool test_is_old() const {
    return advice_.proof.verdict && advice_.proof.verdict->outcome == "refused";
  }

  [[nodiscard]] bool gone_past(int step) const {
    for (int i = step + 1; i < static_cast<int>(progress_.steps.size()); ++i) {
      const Step& later = progress_.steps[at(i)];
      // Handed over without a word of what is open: nobody knew that it is.
      if (later.code == "hand_over" && later.state == StepState::open) continue;
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

std::string names_of(const std::vector<LeftOpen>& list) {
  std::string text;
  for (const LeftOpen& one : list) text += (text.empty() ? "" : "; ") + one.name;
  return text;
}

std::string handed_over_open(const SiteState& state, const Progress& progress) {
  if (!state.ticked("handed_over") || progress.left_open.empty()) return "";
  std::string text = "Handed over with these left open: " + names_of(progress.left_open) + ".";
  if (const std::string& why = state.ticks.at("handed_over").remark; !why.empty()) {
    text += " " + why + (why.ends_with('.') ? "" : ".");
  }
  return text;
}

std::vector<units::StandIndex> moved_by_restraints(const SiteState& state) {
  const record::ReadingSet* before = nullptr;
  const record::ReadingSet* after = nullptr;
  for (const Event& event : state.events) {
    const auto* const set = std::get_if<record::ReadingSet>(&event.what);
    // What was read of another deck can't be compared.
    if (set == nullptr || event.line < state.another_deck_line()) continue;
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
