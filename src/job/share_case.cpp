#include "job/share_case.h"

#include "job/read_events.h"
#include "job/reading_words.h"
#include "job/share_view_of.h"
#include "share/advise.h"

namespace weighwright::job {

ShareAnswer share_case(const ShareRequest& request) {
  // A deck that stands, and a history that can be read.
  LoadedDeck loaded = load_deck(request.deck);
  if (!loaded.ok()) return {.view = {}, .faults = std::move(loaded.faults)};
  Events history = read_events(*loaded.deck, request.files);
  if (!history.faults.empty()) return {.view = {}, .faults = std::move(history.faults)};
  ShareAnswer answer = share_events(loaded, history.list, request.map_proven);
  for (units::Diagnostic& fault : answer.faults) {
    if (fault.file.empty() && !request.files.empty()) fault.file = request.files.back().name;
  }
  return answer;
}

ShareAnswer share_events(const LoadedDeck& loaded,
                         const std::vector<record::Measurement>& events,
                         bool map_proven) {
  // What is believed, and what to do.
  share::Advised advised =
      share::advise(*loaded.deck, *loaded.model, events, {.map_proven = map_proven});
  if (!advised.advice) return {.view = {}, .faults = std::move(advised.faults)};

  // In the words and units of the person at the pit.
  report::ShareView view = view_of(*loaded.deck, *advised.advice, ReadingWords::unit_of(events));
  view.assumed = loaded.assumed;
  return {.view = std::move(view), .faults = {}};
}

}  // namespace weighwright::job
