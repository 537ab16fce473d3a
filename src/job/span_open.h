#pragma once
/// What has to be done before the span: the dead load shared, the corners alike, nothing moved
/// since.

#include <string>
#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"
#include "statics/model.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct SpanOpen {
  std::vector<std::string> sentences;  // empty: nothing is open
  units::Diagnostics faults;
};

/// @param shared, trimmed  the user says so, where no file shows it
[[nodiscard]] SpanOpen open_before_span(const deck::Deck& deck,
                                        const statics::Model& model,
                                        const std::vector<record::Measurement>& events,
                                        bool shared,
                                        bool trimmed);

}  // namespace weighwright::job
