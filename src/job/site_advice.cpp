#include "job/site_advice.h"

#include <algorithm>
#include <utility>
#include <variant>

#include "job/site_evidence.h"

namespace weighwright::job {
namespace {

/// After grouting nobody's screws turn: what is left is a shim, where the deck file lists shims.
LoadedDeck grouted_deck(const LoadedDeck& loaded) {
  LoadedDeck grouted = loaded;
  for (deck::Stand& stand : grouted.deck->stands) {
    stand.adjust = stand.shims_m.empty() ? deck::Adjust::none : deck::Adjust::shims;
  }
  return grouted;
}

void diagnose_site(const SiteState& state, SiteAdvice& advice) {
  DiagnosisEvidence evidence = diagnosis_evidence(state);
  if (evidence.what.now.empty()) return;
  evidence.what.context.shared = state.service || advice.share_done();
  evidence.what.context.trimmed = state.service || advice.trim_done();
  evidence.what.context.spanned = state.service || advice.span_done();
  advice.diagnosis_lines = std::move(evidence.lines);
  advice.diagnosed = std::move(evidence.what);
  diagnose::Diagnosed found =
      diagnose::diagnose(*state.deck->deck, *state.deck->model, advice.diagnosed);
  advice.diagnosis = std::move(found.diagnosis);
  advice.diagnosis_faults = std::move(found.faults);
}

}  // namespace

bool SiteAdvice::holds(diagnose::Adjustment adjustment) const {
  if (!diagnosis || !diagnosis->hold) return false;
  const auto& held = diagnosis->do_not_adjust;
  return std::find(held.begin(), held.end(), adjustment) != held.end();
}

SiteAdvice advise_site(const SiteState& state) {
  const LoadedDeck& loaded = *state.deck;
  SiteAdvice advice;
  advice.map = map_seen(state);
  advice.share_evidence = share_evidence(state);
  if (advice.share_evidence.anything && !advice.share_evidence.moved_last) {
    const bool proven = advice.map.proven;
    advice.share = state.grouted()
                       ? share_events(grouted_deck(loaded), advice.share_evidence.events, proven)
                       : share_events(loaded, advice.share_evidence.events, proven);
  }
  advice.trim_evidence = trim_evidence(state);
  if (advice.trim_evidence.anything && !advice.trim_evidence.moved_last) {
    advice.trim = trim_events(loaded, advice.trim_evidence.events);
  }
  advice.span_evidence = span_evidence(state);
  if (advice.span_evidence.anything) {
    advice.span = span_events(loaded, advice.span_evidence.events, true, true);
  }
  diagnose_site(state, advice);
  return advice;
}

}  // namespace weighwright::job
