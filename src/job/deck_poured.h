#pragma once
/// The deck and its concrete: which modules an entry says were poured, and the deck as it stands
/// from then on.
///
/// A module counts as poured when the deck described last says so, or an entry does; concrete is
/// never taken out again.

#include <set>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "job/load_deck.h"
#include "record/entry.h"

namespace weighwright::job {

/// Marks of the concrete modules that are not poured yet, in order.
[[nodiscard]] std::vector<std::string> unpoured(const deck::Deck& deck);

/// Marks of the modules that are poured in `after` and stood unpoured in `before`. A module that
/// `before` does not have is new, and no pour.
[[nodiscard]] std::vector<std::string> poured_between(const deck::Deck& before,
                                                      const deck::Deck& after);

/// What a `pour` entry names: marks of this deck, or what is wrong with it and what would be right.
struct PourSaid {
  std::vector<std::string> marks;  // "all": every concrete module that is not poured yet
  std::string what;                // empty: nothing is wrong
  std::string expected;
};
[[nodiscard]] PourSaid pour_said(const record::Draft& pour, const deck::Deck& deck);

/// The described deck with these modules poured, and what is assumed of them told anew. The model
/// is not built here.
void pour(LoadedDeck& loaded, const std::set<std::string>& marks);

}  // namespace weighwright::job
