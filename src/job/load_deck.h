#pragma once
/// From the text of a deck file to the deck and its condensed model, all faults of both at once.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "statics/model.h"
#include "units/diagnostic.h"

namespace weighwright::job {

/// A file that a face has read.
struct InputFile {
  std::string name;  // for messages
  std::string text;
};

struct LoadedDeck {
  std::optional<deck::Deck> deck;
  std::optional<statics::Model> model;  // empty when there are faults
  units::Diagnostics faults;
  units::Diagnostics notes;
  std::vector<deck::Assumed> assumed;  // of the file and of the statics
  [[nodiscard]] bool ok() const { return model.has_value(); }
};

[[nodiscard]] LoadedDeck load_deck(const InputFile& file);

}  // namespace weighwright::job
