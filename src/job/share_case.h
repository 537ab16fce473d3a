#pragma once
/// The main job: from a deck and what was read and done so far to the screws to turn.

#include <optional>
#include <vector>

#include "job/load_deck.h"
#include "record/measurement.h"
#include "report/share_view.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct ShareRequest {
  InputFile deck;
  std::vector<InputFile> files;  // in the order in which they happened
  bool map_proven = false;       // the user says that every stand was loaded in turn and answered
};

struct ShareAnswer {
  std::optional<report::ShareView> view;  // empty when there are faults
  units::Diagnostics faults;
};

[[nodiscard]] ShareAnswer share_case(const ShareRequest& request);

/// Stands whose readings in this unit can't become forces, for nobody knows capacity or output of
/// the cell there.
[[nodiscard]] std::vector<units::StandIndex> stands_not_known(const LoadedDeck& loaded,
                                                              record::ReadingUnit unit);

/// The same from what was read already; refused where a reading can't become a force, for nobody
/// knows the cell. @pre loaded.ok()
[[nodiscard]] ShareAnswer share_events(const LoadedDeck& loaded,
                                       const std::vector<record::Measurement>& events,
                                       bool map_proven);

}  // namespace weighwright::job
