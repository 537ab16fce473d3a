#pragma once
/// How many millivolts there are to spend, whether the parts fit together, and what is wrong in the
/// circuit.

#include <optional>

#include "job/load_deck.h"
#include "report/signal_view.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct SignalRequest {
  InputFile deck;
  std::optional<InputFile> forces;       // CSV stand,force_N; none: the dead load by statics
  std::optional<InputFile> resistances;  // CSV stand,input_ohm,...; none: circuit not judged
};

struct SignalAnswer {
  std::optional<report::SignalView> view;  // empty when there are faults
  units::Diagnostics faults;
};

[[nodiscard]] SignalAnswer signal_case(const SignalRequest& request);

}  // namespace weighwright::job
