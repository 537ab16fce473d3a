#include "job/trim_case.h"

#include <algorithm>
#include <utility>

#include "job/assumed_of.h"
#include "job/read_events.h"
#include "job/trim_view_of.h"
#include "trim/advise.h"

namespace weighwright::job {
namespace {

/// What the answer took for granted of boxes, trims and readings.
void add_trimming(const deck::Deck& deck,
                  const trim::TrimAdvice& advice,
                  std::vector<deck::Assumed>& assumed) {
  if (deck.boxes.empty()) {
    const bool digital =
        !advice.elements.empty() && advice.elements.front().kind == trim::TrimKind::digital;
    assumed.push_back(
        {.key = "box.trims", .value = digital ? "digital" : "signal, one for each cell"});
  }
  const bool factors = std::any_of(
      advice.elements.begin(), advice.elements.end(),
      [](const trim::Element& element) { return element.kind == trim::TrimKind::digital; });
  if (factors && advice.shifts.moves.empty()) {
    assumed.push_back({.key = "trim.factor",
                       .value = "1 everywhere (else name a file trim,factor before the readings)"});
  }
  for (const trim::Element& element : advice.elements) {
    if (element.kind == trim::TrimKind::digital || !element.start_assumed) continue;
    assumed.push_back({.key = "trim.start",
                       .value = deck.trimming.attenuates ? "all at their least attenuation"
                                                         : "all in the middle"});
    break;
  }
  if (!deck.trimming.repeatability_kg) {
    add_assumed(assumed, {{.key = "trim.repeatability", .value = "0.3 d"}});
  }
  if (!deck.trimming.spread_kg) add_assumed(assumed, {{.key = "trim.spread", .value = "e"}});
}

}  // namespace

TrimAnswer trim_case(const TrimRequest& request) {
  LoadedDeck loaded = load_deck(request.deck);
  if (!loaded.ok()) return {.view = {}, .faults = std::move(loaded.faults)};
  Events events = read_events(*loaded.deck, request.files);
  if (!events.faults.empty()) return {.view = {}, .faults = std::move(events.faults)};
  TrimAnswer answer = trim_events(loaded, events.list);
  for (units::Diagnostic& fault : answer.faults) {
    if (fault.file.empty() && !request.files.empty()) fault.file = request.files.back().name;
  }
  return answer;
}

TrimAnswer trim_events(const LoadedDeck& loaded, const std::vector<record::Measurement>& events) {
  trim::Advised advised = trim::advise(*loaded.deck, *loaded.model, events);
  if (!advised.advice) return {.view = {}, .faults = std::move(advised.faults)};
  report::TrimView view = view_of(*loaded.deck, *advised.advice);
  view.assumed = loaded.assumed;
  drop_sharing(view.assumed);
  add_trimming(*loaded.deck, *advised.advice, view.assumed);
  return {.view = std::move(view), .faults = {}};
}

}  // namespace weighwright::job
