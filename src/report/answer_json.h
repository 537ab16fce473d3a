#pragma once
/// Answers as JSON: lower_snake keys with SI unit suffix, one object, ends with a line feed.
///
/// NaN and infinity are never printed: the value is null and a sibling key with "_reason" says why.

#include <string>

#include "report/check_view.h"
#include "report/level_view.h"
#include "report/predict_view.h"
#include "report/share_view.h"
#include "report/signal_view.h"
#include "report/span_view.h"
#include "report/trim_view.h"
#include "units/diagnostic.h"

namespace weighwright::report {

[[nodiscard]] std::string print_json(const PredictView& view);
[[nodiscard]] std::string print_json(const ShareView& view);
[[nodiscard]] std::string print_json(const CheckView& view);
[[nodiscard]] std::string print_json(const LevelView& view);
[[nodiscard]] std::string print_json(const SignalView& view);
[[nodiscard]] std::string print_json(const TrimView& view);
[[nodiscard]] std::string print_json(const PlacementsView& view);
[[nodiscard]] std::string print_json(const SpanView& view);

/// {"faults":[{"file","line","column","what","expected"}]}
[[nodiscard]] std::string print_json(const units::Diagnostics& faults);

}  // namespace weighwright::report
