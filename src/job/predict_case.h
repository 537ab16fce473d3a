#pragma once
/// What each stand should carry and read, and what each screw does.

#include <optional>
#include <string>
#include <vector>

#include "job/load_deck.h"
#include "report/predict_view.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct PredictRequest {
  InputFile deck;
  std::optional<InputFile> heights;  // CSV stand,height_mm; none: all tops on one level line
  std::vector<std::string> loads;    // "3.5 m,0.6 m,10 t": x from end 1, y left positive, mass
  std::optional<std::string> jack;   // "2L,3 mm": rise of the deck at that stand
};

struct PredictAnswer {
  std::optional<report::PredictView> view;  // empty when there are faults
  units::Diagnostics faults;
};

[[nodiscard]] PredictAnswer predict_case(const PredictRequest& request);

}  // namespace weighwright::job
