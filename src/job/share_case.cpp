#include "job/share_case.h"

#include <variant>

#include "job/read_events.h"
#include "job/reading_words.h"
#include "job/share_view_of.h"
#include "job/speak.h"
#include "share/advise.h"

namespace weighwright::job {
namespace {

units::Diagnostics not_known(const LoadedDeck& loaded,
                             const std::vector<record::Measurement>& events) {
  for (const record::Measurement& event : events) {
    const auto* const set = std::get_if<record::ReadingSet>(&event);
    if (set == nullptr) continue;
    const std::vector<units::StandIndex> stands = stands_not_known(loaded, set->unit);
    if (stands.empty()) continue;
    std::vector<std::string> names;
    for (const units::StandIndex stand : stands) names.push_back(units::print(stand));
    return {{.file = set->source,
             .line = 0,
             .column = 0,
             .what = "what the cell under " + all_of(names) +
                     " reads can't become a force: nobody knows its capacity or output",
             .expected = "its label or certificate: job add JOB --entry cell_placed stand=" +
                         names.front() + " capacity=\"25 t\" output=\"2 mV/V\""}};
  }
  return {};
}

}  // namespace

std::vector<units::StandIndex> stands_not_known(const LoadedDeck& loaded,
                                                record::ReadingUnit unit) {
  using Unit = record::ReadingUnit;
  std::vector<units::StandIndex> stands;
  if (unit == Unit::kg || unit == Unit::lb) return stands;
  const bool by_output = unit == Unit::mV || unit == Unit::mV_per_V;
  for (const NotKnown& lacks : loaded.not_known) {
    if (lacks.capacity || (by_output && lacks.output)) stands.push_back(lacks.stand);
  }
  return stands;
}

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
  if (units::Diagnostics faults = not_known(loaded, events); !faults.empty()) {
    return {.view = {}, .faults = std::move(faults)};
  }
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
