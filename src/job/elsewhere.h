#pragma once
/// A scale that was adjusted at another place: what gravity does to every reading here.

#include <string>
#include <vector>

#include "deck/deck.h"
#include "units/diagnostic.h"

namespace weighwright::job {

struct Elsewhere {
  std::vector<std::string> sentences;
  units::Diagnostics faults;  // the place can't be read, or the deck file has no latitude
};

/// @param typed  "48 deg, 500 m": latitude, and height above the sea (0 when left out)
[[nodiscard]] Elsewhere adjusted_elsewhere(const deck::Deck& deck, const std::string& typed);

}  // namespace weighwright::job
