#pragma once
/// Corner adjustment: from a deck and what the display showed with a load here and there to every
/// trim at once.

#include <optional>
#include <vector>

#include "job/load_deck.h"
#include "record/measurement.h"
#include "report/trim_view.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct TrimRequest {
  InputFile deck;
  std::vector<InputFile>
      files;  // shift readings and trims made, in the order in which they happened
};

struct TrimAnswer {
  std::optional<report::TrimView> view;  // empty when there are faults
  units::Diagnostics faults;
};

[[nodiscard]] TrimAnswer trim_case(const TrimRequest& request);

/// The same from what was read already. @pre loaded.ok()
[[nodiscard]] TrimAnswer trim_events(const LoadedDeck& loaded,
                                     const std::vector<record::Measurement>& events);

}  // namespace weighwright::job
