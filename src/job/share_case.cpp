#include "job/share_case.h"

#include "job/reading_words.h"
#include "job/share_view_of.h"
#include "record/csv.h"
#include "share/advise.h"

namespace weighwright::job {
namespace {

struct History {
  std::vector<record::Measurement> events;
  units::Diagnostics faults;
};

/// All files to events, all faults of all files together.
History read_history(const deck::Deck& deck, const std::vector<InputFile>& files) {
  History history;
  for (const InputFile& file : files) {
    record::ParsedMeasurement parsed =
        record::parse_measurement(file.text, file.name, static_cast<int>(deck.sections.size()),
                                  static_cast<int>(deck.joints.size()));
    history.faults.insert(history.faults.end(), parsed.faults.begin(), parsed.faults.end());
    if (parsed.value) history.events.push_back(std::move(*parsed.value));
  }
  return history;
}

}  // namespace

ShareAnswer share_case(const ShareRequest& request) {
  // A deck that stands, and a history that can be read.
  LoadedDeck loaded = load_deck(request.deck);
  if (!loaded.ok()) return {.view = {}, .faults = std::move(loaded.faults)};
  History history = read_history(*loaded.deck, request.files);
  if (!history.faults.empty()) return {.view = {}, .faults = std::move(history.faults)};

  // What is believed, and what to do.
  share::Advised advised = share::advise(*loaded.deck, *loaded.model, history.events,
                                         {.map_proven = request.map_proven});
  if (!advised.advice) {
    for (units::Diagnostic& fault : advised.faults) {
      if (fault.file.empty() && !request.files.empty()) fault.file = request.files.back().name;
    }
    return {.view = {}, .faults = std::move(advised.faults)};
  }

  // In the words and units of the person at the pit.
  report::ShareView view =
      view_of(*loaded.deck, *advised.advice, ReadingWords::unit_of(history.events));
  view.assumed = std::move(loaded.assumed);
  return {.view = std::move(view), .faults = {}};
}

}  // namespace weighwright::job
