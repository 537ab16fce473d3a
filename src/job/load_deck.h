#pragma once
/// From the text of a deck file to the deck and its condensed model, all faults of both at once.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "statics/model.h"
#include "units/diagnostic.h"
#include "units/place.h"

namespace weighwright::job {

/// A file that a face has read.
struct InputFile {
  std::string name;  // for messages
  std::string text;
};

/// What nobody knows of the cell under a stand. The deck then still has the figures of the one that
/// was described; whatever needs them must say that it can't judge.
struct NotKnown {
  units::StandIndex stand;
  bool capacity = false;
  bool output = false;
};

struct LoadedDeck {
  std::optional<deck::Deck> deck;
  std::optional<statics::Model> model;  // empty when there are faults
  units::Diagnostics faults;
  units::Diagnostics notes;
  std::vector<deck::Assumed> assumed;  // of the file and of the statics
  std::vector<NotKnown> not_known;     // by stand; empty: every cell is described
  [[nodiscard]] bool ok() const { return model.has_value(); }
};

[[nodiscard]] LoadedDeck load_deck(const InputFile& file);

/// Builds the model of loaded.deck anew, where the deck is not as the file says any more. Faults as
/// load_deck, under this name; then the model is empty. @pre loaded.deck
void rebuild(LoadedDeck& loaded, const std::string& name);

}  // namespace weighwright::job
