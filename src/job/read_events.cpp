#include "job/read_events.h"

#include <utility>

#include "record/csv.h"

namespace weighwright::job {

Events read_events(const deck::Deck& deck, const std::vector<InputFile>& files) {
  Events events;
  for (const InputFile& file : files) {
    record::ParsedMeasurement parsed =
        record::parse_measurement(file.text, file.name, static_cast<int>(deck.sections.size()),
                                  static_cast<int>(deck.joints.size()));
    events.faults.insert(events.faults.end(), parsed.faults.begin(), parsed.faults.end());
    if (parsed.value) events.list.push_back(std::move(*parsed.value));
  }
  return events;
}

}  // namespace weighwright::job
