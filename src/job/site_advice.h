#pragma once
/// From the state of a site to what is believed and what to do, with the entries that it rests on.
///
/// Everything is computed anew from the entries. Readings count from the last change of what they
/// speak of (site_state.h); no-load values and a proven map are carried on. Of many readings of one
/// load at one place between two moves the last ones count: kMostRepeats for trims and span,
/// kDiagnosisRepeats for the diagnosis (of cells too).

#include <optional>
#include <utility>
#include <vector>

#include "diagnose/diagnose.h"
#include "job/share_case.h"
#include "job/site_proof.h"
#include "job/site_state.h"
#include "job/span_case.h"
#include "job/trim_case.h"

namespace weighwright::job {

inline constexpr int kMostRepeats = 10;
inline constexpr int kDiagnosisRepeats = 2;
inline constexpr int kMostZeros = 16;  // of a long history of zero

/// The evidence of one question: the entries that count, in order.
struct Evidence {
  std::vector<record::Measurement> events;
  std::vector<int> lines;               // of the history, each once, in order
  bool moved_last = false;              // something was moved after the last reading: read again
  bool anything = false;                // there is a reading to judge
  std::vector<std::string> unmet = {};  // conditions of the last reading that nobody ticked
};

/// Which reading moved when each stand was loaded; of a stand loaded twice the last time counts.
struct MapSeen {
  bool proven = false;  // every stand was loaded, and its own reading moved
  std::vector<std::pair<units::StandIndex, units::StandIndex>> exchanged;  // loaded, moved
  std::vector<int> lines;
};

struct SiteAdvice {
  Evidence share_evidence;
  ShareAnswer share;
  Evidence trim_evidence;
  TrimAnswer trim;
  Evidence span_evidence;
  SpanAnswer span;
  MapSeen map;
  std::optional<diagnose::Diagnosis> diagnosis;  // empty: nothing was measured, or faults
  diagnose::Case diagnosed;                      // what it rests on
  std::vector<int> diagnosis_lines;
  units::Diagnostics diagnosis_faults;
  SiteProof proof;  // plan and verdict once the span is done or something was tested

  [[nodiscard]] bool holds(diagnose::Adjustment adjustment) const;
  [[nodiscard]] bool share_done() const { return share.view && share.view->done; }
  [[nodiscard]] bool trim_done() const { return trim.view && trim.view->done; }
  [[nodiscard]] bool span_done() const {
    return span.view && span.view->has_results && span.view->done;
  }
};

/// @pre state.deck
/// @param memory  of earlier questions about the same site; emptied here when the deck is another.
/// Answers are the same with and without.
[[nodiscard]] SiteAdvice advise_site(const SiteState& state,
                                     diagnose::MeterMemory* memory = nullptr);

}  // namespace weighwright::job
