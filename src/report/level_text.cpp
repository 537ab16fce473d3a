#include "report/level_view.h"
#include "report/paragraph.h"

namespace weighwright::report {

std::string draw_text(const LevelView& view) {
  constexpr int width = 80;
  std::string text =
      "Plate at " + view.stand + ", seen from above, looking from end 1 to end 2\n\n";
  for (const std::string& caution : view.cautions) text += wrap(caution, width, "! ", "  ");
  for (const LevelScrew& screw : view.screws) {
    text +=
        wrap(screw.instruction, width, "  " + pad_right(screw.corner, 11) + " ", "              ");
  }
  return text + '\n' + wrap(view.remains, width, "", "  ");
}

}  // namespace weighwright::report
