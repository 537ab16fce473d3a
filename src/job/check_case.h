#pragma once
/// All faults of a deck file at once; without faults a plan of the deck and what was assumed.

#include <optional>

#include "job/load_deck.h"
#include "report/check_view.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct CheckAnswer {
  std::optional<report::CheckView> view;  // empty when there are faults
  units::Diagnostics faults;
};

[[nodiscard]] CheckAnswer check_case(const InputFile& deck);

}  // namespace weighwright::job
