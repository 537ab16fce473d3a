#pragma once
/// The deck from above, to scale: modules, joints, stands with their names, load patches.

#include <string>
#include <vector>

#include "report/document_view.h"
#include "report/paper/pen.h"
#include "report/paper/phrases.h"

namespace weighwright::report {

struct DeckDrawing {
  double most_height = 45.0 * kPerMm;  // of the deck itself, names not counted
  double stand_size = 7.5;             // of the stands' names
  std::vector<std::string> marked;     // stands that are ringed
};

/// Height that draw_deck takes at that width, points.
[[nodiscard]] double deck_height(const DrawnDeck& deck, double width, const DeckDrawing& how);

/// End 1 at the left, y up (left positive, looking from end 1 to end 2).
void draw_deck(Pen& pen,
               Point at,
               double width,
               const DrawnDeck& deck,
               const std::vector<PatchView>& patches,
               const DeckDrawing& how,
               const Phrases& words);

}  // namespace weighwright::report
