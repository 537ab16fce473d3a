#include "fault_trial/job_trial.h"

#include <algorithm>
#include <optional>
#include <stdexcept>

#include "fault_trial/trial.h"
#include "job/rehearse_case.h"
#include "job/site_advice.h"
#include "job/site_state.h"
#include "job/steps.h"
#include "report/rehearse_view.h"

namespace weighwright::bench {
namespace {

constexpr int kMostAsked = 3;

/// One site and its journal.
class Player {
 public:
  Player(const job::InputFile& deck, std::uint64_t seed) : deck_(deck) {
    job::BegunRehearsal begun = job::begin_rehearsal(deck, seed, {});
    if (!begun.site) throw std::runtime_error(begun.faults.front().what);
    site_.emplace(std::move(*begun.site));
  }

  void write(const std::string& kind, record::Fields fields) {
    record::Entry entry;
    entry.stamp.device = "00000000000000aa";
    entry.stamp.sequence = entry.stamp.lamport = static_cast<std::int64_t>(kept_.size()) + 1;
    entry.what = {.kind = kind, .fields = std::move(fields), .corrects = {}};
    std::string number = std::to_string(kept_.size() + 1);
    entry.hash = std::string(64 - number.size(), '0') + number;
    kept_.push_back({.entry = std::move(entry), .intact = true, .problem = {}});
  }
  void describe() { write("deck", {{"file", deck_.name}, {"text", deck_.text}}); }
  void visit(const char* reason) { write("visit", {{"reason", reason}}); }
  void tick(const char* name) { write("tick", {{"name", name}, {"on", "yes"}}); }

  /// Something is done on the site, nothing is recorded. False: it was refused.
  bool quietly(const std::string& command) { return site_->command(command).faults.empty(); }

  /// A measurement, recorded. False: it was refused, or gave no table.
  bool measure(const std::string& command) {
    const job::RehearseAnswer answer = site_->command(command);
    if (!answer.faults.empty() || !answer.view || answer.view->rows.empty()) return false;
    write("measurement", {{"file", command + ".csv"}, {"text", report::draw_text(*answer.view)}});
    return true;
  }

  /// What the faults truly changed.
  [[nodiscard]] std::vector<diagnose::Adjustment> answers(Stage stage) const {
    const rehearsal::PracticeSite& truth = site_->truth();
    return answers_to(truth, truth.described(), stage);
  }

  struct Point {
    std::string kind;  // of the adjustment that is advised: "share", "trim", "span"; empty: none
    std::optional<diagnose::Diagnosis> diagnosis;
  };

  [[nodiscard]] Point look() const {
    const job::SiteState state = job::site_state_of(kept_);
    if (!state.faults.empty()) throw std::runtime_error(units::print(state.faults.front()));
    const job::SiteAdvice advice = job::advise_site(state);
    const job::Progress progress = job::progress_of(state, advice);
    Point point;
    point.diagnosis = advice.diagnosis;
    using job::Detail;
    const Detail detail = progress.next.detail;
    if (detail == Detail::share && !advice.share.view->moves.empty()) point.kind = "share";
    const bool trims =
        detail == Detail::trim && (!advice.trim.view->trims.empty() || advice.trim.view->learn);
    if (trims) point.kind = "trim";
    if (detail == Detail::span && advice.span.view->code == "set") point.kind = "span";
    return point;
  }

 private:
  job::InputFile deck_;
  std::optional<job::Rehearsal> site_;
  std::vector<job::Kept> kept_;
};

void install(Player& player) {
  player.visit("install");
  player.describe();
  for (const char* const name :
       {"locked_out", "received", "set_down", "wired", "panels_on", "rods_slack", "nothing_touches",
        "nobody_on_deck", "warm", "same_meter"}) {
    player.tick(name);
  }
}

void fix(Player& player) {
  player.tick("grouted");
  player.write("release", {{"by", "A. Tester"},
                           {"foundation", "grouted"},
                           {"grounds", "engineer"},
                           {"remark", "looked at"}});
  for (const char* const name : {"anchors_tight", "stops_fitted", "exercised"}) player.tick(name);
}

const std::vector<std::string>& round_of_a_visit() {
  static const std::vector<std::string> list = {"zero fine",
                                                "cells",
                                                "pass 1-2 10t fine",
                                                "pass 2-1 10t fine",
                                                "corners 10t fine",
                                                "corners 10t down fine",
                                                "place 1-2 10t up fine",
                                                "place 1-2 16t up fine",
                                                "loads 10t 20t fine"};
  return list;
}

/// What is done before the first question, and the tables that then come in one by one.
std::vector<std::string> prepare(Player& player, JobKind kind, const std::string& fault) {
  const auto strike = [&] { return fault.empty() || player.quietly("fault " + fault); };
  if (kind == JobKind::service || kind == JobKind::service_unknown) {
    player.quietly("left-right");
    install(player);
    fix(player);
    player.tick("restraints_set");
    if (kind == JobKind::service) {
      for (const char* const command : {"map", "cells no-load"}) player.measure(command);
      for (const std::string& command : round_of_a_visit()) player.measure(command);
    }
    if (!strike()) return {};
    player.quietly("weather 24 degC");
    player.quietly("wait 10 h");
    player.visit("service");
    player.tick("locked_out");
    return round_of_a_visit();
  }
  if (kind == JobKind::trimming) player.quietly("left-right");
  install(player);
  if (!strike()) return {};
  if (kind == JobKind::sharing) return {"map", "cells no-load", "gaps"};
  fix(player);
  player.measure("map");
  player.measure("cells no-load");
  player.tick("restraints_set");
  std::vector<std::string> list = round_of_a_visit();
  list.insert(list.begin(), "cells no-load");
  return list;
}

std::string answer_command(const diagnose::Next& next) {
  using Kind = diagnose::Next::Kind;
  switch (next.kind) {
    case Kind::look:
      return "look " + next.code + " " + next.where;
    case Kind::cells:
      return "cells";
    case Kind::no_load:
      return "cells no-load";
    case Kind::map:
      return "map";
    case Kind::meter:
      return "meter " + next.where;
    case Kind::load_at:
    case Kind::two_loads:
      return "place " + next.where + " " + std::to_string(static_cast<int>(next.load_kg)) +
             "kg up fine";
    case Kind::up_down:
      return "steps " + next.where + " 5t 10t fine";
    case Kind::passes:
      return "pass 1-2 10t fine";
    case Kind::zero_later:
      return "zero fine";
  }
  return "zero fine";
}

/// Whether the cause is the struck fault, or can't be told from it by what was measured.
bool is_named(const diagnose::Diagnosis& diagnosis, const std::string& code) {
  if (diagnosis.causes.empty()) return false;
  const diagnose::Cause& first = diagnosis.causes.front();
  return std::any_of(diagnosis.causes.begin(), diagnosis.causes.end(),
                     [&](const diagnose::Cause& cause) {
                       return cause.code == code && diagnose::are_alike(cause, first);
                     });
}

bool answers(const std::string& kind, const std::vector<diagnose::Adjustment>& changed) {
  using diagnose::Adjustment;
  const auto has = [&](Adjustment one) {
    return std::find(changed.begin(), changed.end(), one) != changed.end();
  };
  if (kind == "share") return has(Adjustment::screws) || has(Adjustment::shims);
  if (kind == "trim") return has(Adjustment::trims);
  return kind == "span" && has(Adjustment::span);
}

void look_at(const Player& struck,
             const Player& twin,
             const std::string& after,
             const std::vector<diagnose::Adjustment>& changed,
             JobTrial& trial) {
  const Player::Point here = struck.look();
  const Player::Point there = twin.look();
  ++trial.points;
  trial.advised += here.kind.empty() ? 0 : 1;
  trial.twin_advised += there.kind.empty() ? 0 : 1;
  if (here.kind.empty() || here.kind == there.kind || !answers(here.kind, changed)) return;
  ++trial.harmful;
  if (trial.first_harm.empty()) trial.first_harm = here.kind + " after " + after;
}

Stage stage_of(JobKind kind) {
  if (kind == JobKind::sharing) return Stage::sharing;
  return kind == JobKind::trimming ? Stage::trimming : Stage::service;
}

}  // namespace

JobTrial try_job(const job::InputFile& deck,
                 const std::string& code,
                 JobKind kind,
                 std::uint64_t seed) {
  JobTrial trial;
  Player struck(deck, seed);
  Player twin(deck, seed);
  const std::vector<std::string> tables = prepare(struck, kind, code);
  if (tables.empty()) return trial;
  (void)prepare(twin, kind, "");
  trial.struck = true;
  std::vector<diagnose::Adjustment> changed;
  const bool mends = kind == JobKind::sharing && (code == "bearing_hangs" || code == "stand_sunk");
  if (!code.empty() && !mends) changed = struck.answers(stage_of(kind));
  for (const std::string& table : tables) {
    struck.measure(table);
    twin.measure(table);
    look_at(struck, twin, table, changed, trial);
  }
  for (int asked = 0; asked < kMostAsked; ++asked) {
    const Player::Point point = struck.look();
    if (!point.diagnosis || !point.diagnosis->hold || point.diagnosis->next.empty()) break;
    const std::string command = answer_command(point.diagnosis->next.front());
    if (!struck.measure(command)) break;
    twin.measure(command);
    look_at(struck, twin, command, changed, trial);
  }
  const Player::Point last = struck.look();
  trial.named_first = last.diagnosis && is_named(*last.diagnosis, code);
  return trial;
}

}  // namespace weighwright::bench
