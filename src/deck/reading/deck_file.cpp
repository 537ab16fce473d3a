#include "deck/reading/deck_file.h"

#include <utility>

#include "deck/reading/document.h"
#include "deck/reading/fault_sink.h"
#include "deck/reading/raw_deck.h"

namespace weighwright::deck {

ParsedDeck parse_deck(std::string_view text, const std::string& file) {
  const reading::ParsedDocument document = reading::parse_document(text, file);
  if (!document.root) return {std::nullopt, document.faults, {}};

  // what every table says, on its own
  reading::FaultSink sink(file);
  reading::RawDeck raw;
  reading::read_deck_tables(*document.root, raw, sink);
  reading::read_structure(*document.root, raw, sink);
  reading::read_stands(*document.root, raw, sink);
  reading::read_instruments(*document.root, raw, sink);
  reading::check_wiring(raw, sink);

  // how the tables fit together; only a deck that can stand is worth its defaults
  const bool stands = reading::resolve_layout(raw, sink);
  if (stands) {
    reading::fill_defaults(raw);
    reading::check_whole(raw, sink);
  }
  if (sink.fault_count() > 0) return {std::nullopt, sink.faults(), sink.notes()};
  return {std::move(raw.deck), {}, sink.notes()};
}

}  // namespace weighwright::deck
