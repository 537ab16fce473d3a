#include "report/check_view.h"
#include "report/paragraph.h"

namespace weighwright::report {

std::string draw_text(const CheckView& view) {
  constexpr int width = 80;
  std::string text = wrap(view.headline, width, "", "  ") + '\n' + draw_text(view.plan, width);
  if (!view.notes.empty()) text += '\n';
  for (const std::string& note : view.notes) text += wrap(note, width, "note: ", "  ");
  if (view.assumed.empty()) return text;
  text += "\nAssumed, because the deck file does not say:\n";
  for (const deck::Assumed& item : view.assumed) {
    text += wrap(item.key + " = " + item.value, width, "  ", "    ");
  }
  return text;
}

}  // namespace weighwright::report
