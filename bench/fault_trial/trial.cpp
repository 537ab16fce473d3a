#include "fault_trial/trial.h"

#include <algorithm>
#include <cmath>
#include <ctime>
#include <exception>
#include <optional>
#include <stdexcept>
#include <utility>

#include "rehearsal/practice.h"
#include "signal/cell.h"

namespace weighwright::bench {
namespace {

using rehearsal::Look;
using rehearsal::PracticeSite;

constexpr int kMostAsked = 3;
constexpr double kTolerance_V = 1e-3;
constexpr double kHarms = 0.4;

double usual_load_kg(const deck::Deck& deck) {
  return std::min(10000.0, deck.capacity_kg / 3.0);
}

record::LoadPlace stand_place(int stand) {
  record::LoadPlace place;
  place.kind = record::LoadPlace::Kind::stand;
  place.stand = units::StandIndex{stand};
  place.typed = units::print(place.stand);
  return place;
}

record::LoadPlace span_place(int section) {
  record::LoadPlace place;
  place.kind = record::LoadPlace::Kind::span;
  place.section = units::SectionIndex{section};
  place.typed = std::to_string(section + 1) + "-" + std::to_string(section + 2);
  return place;
}

record::LoadPlace place_named(const deck::Deck& deck, const std::string& name) {
  if (const auto stand = rehearsal::stand_of(deck, name)) return stand_place(stand->value);
  return span_place(std::stoi(name) - 1);
}

void put(PracticeSite& site,
         record::ShiftSet& set,
         const record::LoadPlace& place,
         double load_kg,
         record::Going going) {
  if (!site.refuses_load(place, load_kg).empty()) return;
  set.readings.push_back(site.place(place, load_kg, going, Look::fine));
}

record::ShiftSet weigh_round(PracticeSite& site, const deck::Deck& deck) {
  const double load_kg = usual_load_kg(deck);
  record::ShiftSet set;
  set.source = "loads";
  const int stands = deck.stand_count();
  for (int i = 0; i < stands; ++i) put(site, set, stand_place(i), load_kg, record::Going::up);
  for (const int i : {0, 1, stands - 2, stands - 1}) {
    put(site, set, stand_place(i), load_kg, record::Going::down);
  }
  const int sections = static_cast<int>(deck.sections.size());
  for (int s = 0; s + 1 < sections; ++s) {
    put(site, set, span_place(s), load_kg, record::Going::up);
  }
  put(site, set, span_place((sections - 1) / 2), 1.6 * load_kg, record::Going::up);
  return set;
}

record::ZeroSet zeros(PracticeSite& site, const deck::Deck& deck) {
  record::ZeroSet set;
  set.source = "zeros";
  const double load_kg = usual_load_kg(deck);
  set.readings.push_back(site.zero(Look::fine));
  for (const bool from_end_1 : {true, false, true, false}) {
    set.readings.push_back(site.pass(from_end_1, load_kg, Look::fine));
  }
  return set;
}

std::vector<record::Measurement> visit(PracticeSite& site,
                                       const deck::Deck& deck,
                                       Stage stage,
                                       bool as_left) {
  std::vector<record::Measurement> events;
  record::ZeroSet first;
  first.source = "zero on arrival";
  first.readings.push_back(site.zero(Look::fine));
  if (stage != Stage::sharing) events.emplace_back(first);
  events.emplace_back(site.read(as_left || stage != Stage::service));
  if (stage != Stage::service) events.emplace_back(site.map());
  if (stage == Stage::sharing) return events;
  events.emplace_back(zeros(site, deck));
  events.emplace_back(weigh_round(site, deck));
  return events;
}

std::optional<record::Measurement> answer(PracticeSite& site,
                                          const deck::Deck& deck,
                                          const diagnose::Next& next) {
  using Kind = diagnose::Next::Kind;
  switch (next.kind) {
    case Kind::look: {
      record::LookSet set;
      set.looks.push_back(site.look(next.code, next.where));
      set.source = "looks";
      return set;
    }
    case Kind::cells:
      return site.read(false);
    case Kind::no_load:
      return site.read(true);
    case Kind::map:
      return site.map();
    case Kind::meter:
      if (next.where == "box") return site.meter({}, true);
      return site.meter({rehearsal::stand_of(deck, next.where).value()}, false);
    case Kind::load_at:
    case Kind::two_loads:
    case Kind::up_down: {
      record::ShiftSet set;
      set.source = "asked";
      const record::LoadPlace place = place_named(deck, next.where);
      put(site, set, place, next.load_kg, record::Going::up);
      if (next.kind == Kind::up_down) {
        put(site, set, place, next.load_kg, record::Going::down);
      }
      if (set.readings.empty()) return std::nullopt;
      return set;
    }
    case Kind::passes:
      return zeros(site, deck);
    case Kind::zero_later: {
      record::ZeroSet set;
      set.source = "zeros later";
      for (const bool rain : {true, false, false}) {
        site.weather({.temp_degC = 18.0, .rain = rain, .sun = !rain});
        site.wait(2.0);
        set.readings.push_back(site.zero(Look::fine));
      }
      return set;
    }
  }
  return std::nullopt;
}

std::string where_of(const rehearsal::Fault& fault) {
  std::string where;
  for (const std::string& place : fault.places) where += (where.empty() ? "" : ",") + place;
  return where;
}

bool same_place(std::string a, const std::string& b) {
  if (a == b) return true;
  const std::size_t comma = a.find(',');
  return comma != std::string::npos && a.substr(comma + 1) + "," + a.substr(0, comma) == b;
}

/// Number of the class (from 0, by order) that holds the fault; -1: not listed.
int rank_of(const diagnose::Diagnosis& diagnosis, const rehearsal::Fault& fault, int& alike) {
  const std::string where = where_of(fault);
  std::vector<int> classes;
  int found = -1;
  for (const diagnose::Cause& cause : diagnosis.causes) {
    if (std::find(classes.begin(), classes.end(), cause.alike) == classes.end()) {
      classes.push_back(cause.alike);
    }
    // Lightning strikes where it likes; a bearing's place is its own.
    if (cause.code != fault.code || !same_place(where, cause.where)) continue;
    found = cause.alike;
    break;
  }
  if (found < 0) return -1;
  alike = static_cast<int>(
      std::count_if(diagnosis.causes.begin(), diagnosis.causes.end(),
                    [found](const diagnose::Cause& cause) { return cause.alike == found; }));
  return static_cast<int>(std::find(classes.begin(), classes.end(), found) - classes.begin());
}

bool harms(const diagnose::Diagnosis& diagnosis,
           const std::vector<diagnose::Adjustment>& answers,
           const std::string& code,
           Stage stage) {
  const bool mends = (code == "bearing_hangs" || code == "stand_sunk") && stage == Stage::sharing;
  if (mends) return false;
  return std::any_of(answers.begin(), answers.end(), [&](diagnose::Adjustment one) {
    return std::find(diagnosis.do_not_adjust.begin(), diagnosis.do_not_adjust.end(), one) ==
           diagnosis.do_not_adjust.end();
  });
}

record::TurnSet some_turns(const deck::Deck& deck, const std::string& where) {
  record::TurnSet turns;
  turns.source = "turns";
  const auto stand = rehearsal::stand_of(deck, where);
  if (!stand) return turns;
  turns.stands.push_back({.stand = *stand, .turns = 0.5, .shim_mm = {}, .line = 1});
  return turns;
}

}  // namespace

std::vector<diagnose::Adjustment> answers_to(const PracticeSite& struck,
                                             const deck::Deck& deck,
                                             Stage stage) {
  using diagnose::Adjustment;
  PracticeSite with = struck;
  PracticeSite without = struck.without_faults();
  // Where no-load readings are taken, sharing takes them off.
  const bool no_load = stage != Stage::service;
  const record::ReadingSet a = with.read(no_load);
  const record::ReadingSet b = without.read(no_load);
  std::vector<double> now_V;
  bool changed = false;
  for (std::size_t i = 0; i < a.stands.size(); ++i) {
    const deck::Cell& cell = deck.stands[i].cell;
    const double newtons =
        signal::newtons_per_unit(cell, a.unit, deck.excitation_V, deck.site.gravity_m_per_s2)
            .value_or(0.0);
    const double V_per_unit = newtons * signal::sensitivity_V_per_N(cell, 10.0);
    const double read = a.stands[i].value - a.stands[i].no_load.value_or(0.0);
    const double sound = b.stands[i].value - b.stands[i].no_load.value_or(0.0);
    now_V.push_back(read * V_per_unit);
    changed |= std::abs(read - sound) * V_per_unit > kHarms * kTolerance_V;
  }
  // Once shared, screws and shims are asked for where a pair is out of tolerance only.
  bool asks = stage == Stage::sharing;
  for (std::size_t i = 0; i + 1 < now_V.size(); i += 2) {
    const double tolerance_V = std::min(kTolerance_V, 0.1 * std::abs(now_V[i] + now_V[i + 1]));
    asks |= std::abs(now_V[i] - now_V[i + 1]) > tolerance_V;
  }
  const bool cells = changed && asks;
  std::vector<Adjustment> list;
  if (cells) list = {Adjustment::screws, Adjustment::shims};
  if (stage == Stage::sharing) return list;
  const double load_kg = usual_load_kg(deck);
  double mean = 0.0;
  std::vector<double> off;
  for (int i = 0; i < deck.stand_count(); ++i) {
    off.push_back(with.true_indication_kg(stand_place(i), load_kg) -
                  without.true_indication_kg(stand_place(i), load_kg));
    mean += off.back() / deck.stand_count();
  }
  bool corners = false;
  for (const double one : off) corners |= std::abs(one - mean) > deck.interval_kg;
  if (corners) list.push_back(Adjustment::trims);
  if (std::abs(mean) > deck.interval_kg) list.push_back(Adjustment::span);
  return list;
}

FaultTrial try_fault(const deck::Deck& deck,
                     const statics::Model& model,
                     const std::string& code,
                     Stage stage,
                     std::uint64_t seed) {
  FaultTrial trial;
  trial.fault.code = code;
  PracticeSite site(deck, {}, seed);
  if (!code.empty() && !rehearsal::check_fault(deck, trial.fault).none()) return trial;
  diagnose::Case evidence;
  if (stage != Stage::sharing) site.leave_right();
  const bool service = stage == Stage::service;
  if (service) evidence.before = visit(site, deck, stage, true);
  const bool turns_wrong = code == "wrong_turn";
  if (turns_wrong && (stage != Stage::sharing || deck.stands[0].adjust != deck::Adjust::screws)) {
    return trial;
  }
  try {
    if (turns_wrong) evidence.now = visit(site, deck, stage, false);
    if (!code.empty()) trial.fault = site.strike(trial.fault);
    const std::vector<diagnose::Adjustment> answers = [&] {
      if (!turns_wrong) return answers_to(site, deck, stage);
      return std::vector<diagnose::Adjustment>{diagnose::Adjustment::screws};
    }();
    if (turns_wrong) {
      const record::TurnSet turns = some_turns(deck, trial.fault.places.front());
      site.turn(turns);
      evidence.now.emplace_back(turns);
      evidence.now.emplace_back(site.read(false));
    } else {
      site.weather({.temp_degC = 24.0, .rain = false, .sun = false});
      if (service) site.wait(10.0);
      evidence.now = visit(site, deck, stage, false);
    }
    trial.struck = true;
    trial.changes = !code.empty() && !answers.empty();
    evidence.context = {.grouted = stage != Stage::sharing,
                        .shared = stage != Stage::sharing,
                        .trimmed = service,
                        .spanned = service,
                        .service = service,
                        .map_proven = false};
    const auto ask = [&] {
      const std::clock_t start = std::clock();
      diagnose::Diagnosed result = diagnose::diagnose(deck, model, evidence);
      trial.milliseconds = 1e3 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
      if (!result.diagnosis) throw std::runtime_error(result.faults.front().what);
      return std::move(*result.diagnosis);
    };
    trial.visit = ask();
    const int rank = rank_of(trial.visit, trial.fault, trial.alike);
    trial.first = rank == 0;
    trial.among_three = rank >= 0 && rank < 3;
    trial.hold = trial.visit.hold;
    trial.harmful = trial.changes && harms(trial.visit, answers, code, stage);
    trial.asked = !trial.visit.next.empty();
    if (trial.asked) {
      const diagnose::Next& next = trial.visit.next.front();
      trial.asked_right = next.first == code || next.second == code;
    }
    trial.after = trial.visit;
    for (int asked = 0; asked < kMostAsked && !trial.after.next.empty(); ++asked) {
      const auto told = answer(site, deck, trial.after.next.front());
      if (!told) break;
      evidence.now.push_back(*told);
      trial.after = ask();
    }
    int alike = 0;
    trial.first_after = rank_of(trial.after, trial.fault, alike) == 0;
    trial.hold_after = trial.after.hold;
    trial.harmful_after = trial.changes && harms(trial.after, answers, code, stage);
  } catch (const std::exception& error) {
    trial.visit.notes.push_back(error.what());
    trial.struck = false;
  }
  return trial;
}

}  // namespace weighwright::bench
