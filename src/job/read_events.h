#pragma once
/// Files of measurements to events, all faults of all files together.

#include <vector>

#include "deck/deck.h"
#include "job/load_deck.h"
#include "record/measurement.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct Events {
  std::vector<record::Measurement> list;  // in the order of the files
  units::Diagnostics faults;
};

[[nodiscard]] Events read_events(const deck::Deck& deck, const std::vector<InputFile>& files);

}  // namespace weighwright::job
