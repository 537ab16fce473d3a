#pragma once
/// Everything so far to advice: a pure function of the deck, its condensed model and the events.

#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"
#include "share/advice.h"
#include "statics/model.h"
#include "units/diagnostic.h"

namespace weighwright::share {

struct Effort {
  int particles = 400;      // samples of what is believed
  bool map_proven = false;  // the user says that every stand was loaded in turn and answered
};

/// Either advice, or what is wrong with the input (a reading that no cell can give, a history that
/// does not end in a reading, a shim at a stand of screws, ...).
struct Advised {
  std::optional<Advice> advice;
  units::Diagnostics faults;
};

/// @param deck     as parsed
/// @param model    build_model(deck)
/// @param events   readings, turns, heights, gaps, maps in the order in which they happened
/// Deterministic: the same input gives the same output on every machine. Nothing is kept.
[[nodiscard]] Advised advise(const deck::Deck& deck,
                             const statics::Model& model,
                             const std::vector<record::Measurement>& events,
                             const Effort& effort);

}  // namespace weighwright::share
