#pragma once
/// Bubble readings of one plate to turns of its four screws.

#include <optional>
#include <string>

#include "job/load_deck.h"
#include "report/level_view.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct LevelRequest {
  InputFile deck;
  std::string stand;                 // "2L"
  std::string along;                 // "2 mm/m", positive: the end-2 side is high
  std::string across;                // "-1 mm/m", positive: the left side is high
  std::optional<std::string> raise;  // "1 mm" of the plate's middle
};

struct LevelAnswer {
  std::optional<report::LevelView> view;
  units::Diagnostics faults;
};

[[nodiscard]] LevelAnswer level_case(const LevelRequest& request);

}  // namespace weighwright::job
