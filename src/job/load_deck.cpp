#include "job/load_deck.h"

#include "deck/reading/deck_file.h"

namespace weighwright::job {

LoadedDeck load_deck(const InputFile& file) {
  deck::ParsedDeck parsed = deck::parse_deck(file.text, file.name);
  LoadedDeck loaded;
  loaded.notes = std::move(parsed.notes);
  loaded.faults = std::move(parsed.faults);
  if (!parsed.deck) return loaded;

  loaded.deck = std::move(parsed.deck);
  loaded.assumed = loaded.deck->assumed;
  statics::BuiltModel built = statics::build_model(*loaded.deck);
  for (units::Diagnostic& fault : built.faults) {
    // Statics knows no file: what it finds wrong is wrong with the deck as a whole.
    if (fault.file.empty()) fault.file = file.name;
    loaded.faults.push_back(std::move(fault));
  }
  loaded.assumed.insert(loaded.assumed.end(), built.assumed.begin(), built.assumed.end());
  if (loaded.faults.empty()) loaded.model = std::move(built.model);
  return loaded;
}

void rebuild(LoadedDeck& loaded, const std::string& name) {
  statics::BuiltModel built = statics::build_model(*loaded.deck);
  for (units::Diagnostic& fault : built.faults) {
    if (fault.file.empty()) fault.file = name;
    loaded.faults.push_back(std::move(fault));
  }
  loaded.model.reset();
  if (built.faults.empty()) loaded.model = std::move(built.model);
}

}  // namespace weighwright::job
