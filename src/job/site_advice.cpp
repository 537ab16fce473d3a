#include "job/site_advice.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <variant>

#include "diagnose/meter_memory.h"
#include "job/condition_doubt.h"
#include "job/site_evidence.h"

namespace weighwright::job {
namespace {

constexpr int kMostAsked = 3;        // times that one load is asked for at one place
constexpr double kSameLoad = 0.01;   // relative
constexpr double kMostDoubt = 0.05;  // chance of a fault with which a new deck is levelled on

/// After grouting nobody's screws turn: what is left is a shim, where the deck file lists shims.
LoadedDeck grouted_deck(const LoadedDeck& loaded) {
  LoadedDeck grouted = loaded;
  for (deck::Stand& stand : grouted.deck->stands) {
    stand.adjust = stand.shims_m.empty() ? deck::Adjust::none : deck::Adjust::shims;
  }
  return grouted;
}

/// No measurement that needs a load on a deck whose grout does not carry.
void drop_loads(diagnose::Diagnosis& diagnosis) {
  std::erase_if(diagnosis.next, [](const diagnose::Next& next) {
    using Kind = diagnose::Next::Kind;
    return next.kind == Kind::load_at || next.kind == Kind::up_down ||
           next.kind == Kind::two_loads || next.kind == Kind::passes || next.code == "plate_moves";
  });
}

/// How often the load was read at this place, in evidence.
int times_read(const std::vector<record::Measurement>& events, const diagnose::Next& next) {
  int times = 0;
  for (const record::Measurement& event : events) {
    const auto* const set = std::get_if<record::ShiftSet>(&event);
    if (set == nullptr) continue;
    for (const record::LoadReading& reading : set->readings) {
      const double load_kg = reading.load_kg.value_or(0.0);
      const bool same = std::abs(load_kg - next.load_kg) <= kSameLoad * next.load_kg;
      if (same && reading.place.typed == next.where) ++times;
    }
  }
  return times;
}

/// Of this visit, repeats included.
std::vector<record::Measurement> all_loads(const SiteState& state) {
  std::vector<record::Measurement> list;
  const int from = std::max(state.visit_line, state.mended_line);
  for (const Event& event : state.events) {
    if (event.line > from && std::holds_alternative<record::ShiftSet>(event.what)) {
      list.push_back(event.what);
    }
  }
  return list;
}

/// What was read there again and again does not tell more by being read once more.
void drop_repeats(const std::vector<record::Measurement>& events, diagnose::Diagnosis& diagnosis) {
  std::erase_if(diagnosis.next, [&](const diagnose::Next& next) {
    return next.kind == diagnose::Next::Kind::load_at && times_read(events, next) >= kMostAsked;
  });
}

/// A new deck on its screws: stands and bearings hang until it is levelled, and a cell whose
/// reading moved when its stand was lifted has no open core. What else may be wrong decides.
void release_new_deck(diagnose::Diagnosis& diagnosis) {
  double other = 0.0;
  for (const diagnose::Cause& cause : diagnosis.causes) {
    const bool answered = cause.code == "signal_open" || cause.code == "excitation_open" ||
                          cause.code == "cell_silent";
    if (cause.innocent || cause.mends_by_sharing || answered) continue;
    if (cause.code == "stand_sunk" || cause.code == "bearing_hangs") continue;
    other += cause.probability;
  }
  if (!diagnosis.explained || other > kMostDoubt) return;
  diagnosis.hold = false;
  diagnosis.do_not_adjust.clear();
}

/// What was said of another deck is of no use.
void keep_to_deck(const SiteState& state, diagnose::MeterMemory& memory) {
  const std::string& deck =
      state.history.lines[static_cast<std::size_t>(state.deck_line)].entry.hash;
  if (memory.deck != deck) memory.kept.clear();
  memory.deck = deck;
}

void diagnose_site(const SiteState& state, diagnose::MeterMemory* memory, SiteAdvice& advice) {
  DiagnosisEvidence evidence = diagnosis_evidence(state);
  if (evidence.what.now.empty()) return;
  evidence.what.context.shared = state.service || advice.share_done();
  evidence.what.context.trimmed = state.service || advice.trim_done();
  evidence.what.context.spanned = state.service || advice.span_done();
  advice.diagnosis_lines = std::move(evidence.lines);
  advice.diagnosed = std::move(evidence.what);
  diagnose::Diagnosed found =
      diagnose::diagnose(*state.deck->deck, *state.deck->model, advice.diagnosed, memory);
  advice.diagnosis = std::move(found.diagnosis);
  advice.diagnosis_faults = std::move(found.faults);
  if (!advice.diagnosis) return;
  drop_repeats(all_loads(state), *advice.diagnosis);
  if (!state.may_load()) drop_loads(*advice.diagnosis);
  if (!state.grouted() && advice.map.proven) release_new_deck(*advice.diagnosis);
}

/// Conditions of the last reading that nobody vouched for, with what was judged of it.
void tell_conditions(const deck::Deck& deck, SiteAdvice& advice) {
  std::string words = doubt_words(deck, advice.share_evidence.unmet);
  if (words.empty() || !advice.share.view) return;
  advice.share.view->judgements.push_back({.code = "conditions",
                                           .verdict = "cannot_judge",
                                           .sentence = std::move(words),
                                           .residual_N = {},
                                           .u_residual_N = {},
                                           .hidden_N = {}});
}

}  // namespace

bool SiteAdvice::holds(diagnose::Adjustment adjustment) const {
  if (!diagnosis || !diagnosis->hold) return false;
  const auto& held = diagnosis->do_not_adjust;
  return std::find(held.begin(), held.end(), adjustment) != held.end();
}

SiteAdvice advise_site(const SiteState& state, diagnose::MeterMemory* memory) {
  if (memory != nullptr) keep_to_deck(state, *memory);
  const LoadedDeck& loaded = *state.deck;
  SiteAdvice advice;
  advice.map = map_seen(state);
  advice.share_evidence = share_evidence(state);
  if (advice.share_evidence.anything && !advice.share_evidence.moved_last) {
    const bool proven = advice.map.proven;
    advice.share = state.grouted()
                       ? share_events(grouted_deck(loaded), advice.share_evidence.events, proven)
                       : share_events(loaded, advice.share_evidence.events, proven);
    tell_conditions(*loaded.deck, advice);
  }
  advice.trim_evidence = trim_evidence(state);
  if (advice.trim_evidence.anything && !advice.trim_evidence.moved_last) {
    advice.trim = trim_events(loaded, advice.trim_evidence.events);
  }
  advice.span_evidence = span_evidence(state);
  if (advice.span_evidence.anything) {
    advice.span = span_events(loaded, advice.span_evidence.events, true, true);
  }
  diagnose_site(state, memory, advice);
  const bool tested = std::any_of(state.events.begin(), state.events.end(), [](const Event& event) {
    return std::holds_alternative<record::ProofSet>(event.what);
  });
  advice.proof = site_proof_of(state, advice.span_done() || tested);
  return advice;
}

}  // namespace weighwright::job
