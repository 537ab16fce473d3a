#pragma once
/// Which placements of a load are worth making before anything is read.

#include <optional>
#include <string>

#include "job/load_deck.h"
#include "report/trim_view.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct PlacementsRequest {
  InputFile deck;
  std::optional<std::string> load;       // "10 t"; empty: a tenth of Max
  std::optional<std::string> footprint;  // name in the deck file; empty: one point
  std::optional<std::string> within;     // "5 kg"; empty: a third of e
};

struct PlacementsAnswer {
  std::optional<report::PlacementsView> view;  // empty when there are faults
  units::Diagnostics faults;
};

[[nodiscard]] PlacementsAnswer placements_case(const PlacementsRequest& request);

}  // namespace weighwright::job
