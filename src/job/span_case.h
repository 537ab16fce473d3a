#pragma once
/// Span: what the indicator should show from the cells' papers, and what known loads say.

#include <optional>
#include <vector>

#include "job/load_deck.h"
#include "record/measurement.h"
#include "report/span_view.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct SpanRequest {
  InputFile deck;
  std::vector<InputFile> files;  // loads, and what shows that share and trim are done; in order
  bool shared = false;           // the user says so
  bool trimmed = false;
  std::optional<std::string> adjusted_at;  // "48 deg, 500 m": where the indicator was adjusted
};

struct SpanAnswer {
  std::optional<report::SpanView> view;  // empty when there are faults
  units::Diagnostics faults;
};

[[nodiscard]] SpanAnswer span_case(const SpanRequest& request);

/// The same from what was read already; without loads the answer is by the papers alone.
/// @pre loaded.ok()
[[nodiscard]] SpanAnswer span_events(const LoadedDeck& loaded,
                                     const std::vector<record::Measurement>& events,
                                     bool shared,
                                     bool trimmed);

}  // namespace weighwright::job
