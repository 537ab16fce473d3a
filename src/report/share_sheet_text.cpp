#include <fmt/format.h>

#include <algorithm>

#include "report/paragraph.h"
#include "report/share_sheet.h"

namespace weighwright::report {
namespace {

int lines_in(const std::string& text) {
  return static_cast<int>(std::count(text.begin(), text.end(), '\n'));
}

std::string heading(const ShareView& view) {
  return wrap("PIT SHEET  " + view.deck_name, kSheetColumns) +
         "Date ____________  Read by ______________  Meter ______________  Supply ______ V\n"
         "Ticked: [ ] rods slack [ ] panels on [ ] nothing touches [ ] nobody on deck\n"
         "        [ ] warm 30 min [ ] traffic locked out\n\n" +
         wrap(view.headline + " " + view.verdict, kSheetColumns, "", "  ") + '\n';
}

std::string move_lines(const ShareView& view) {
  std::string text;
  for (const JudgementView& judgement : view.judgements) {
    if (judgement.verdict == "holds" || judgement.sentence.empty()) continue;
    text += wrap(judgement.sentence, kSheetColumns, "? ", "  ");
  }
  for (const std::string& caution : view.cautions) text += wrap(caution, kSheetColumns, "! ", "  ");
  for (const AskView& ask : view.asks) text += wrap(ask.sentence, kSheetColumns, "[ ] ", "    ");
  for (const MoveView& move : view.moves) {
    text += wrap(move.instruction + " " + move.jacking, kSheetColumns, "[ ] ", "    ");
  }
  for (const CannotFixView& item : view.cannot_fix) {
    text += wrap(item.reason + " Look: " + item.look, kSheetColumns, "[ ] ", "    ");
  }
  return text;
}

/// Boxes in walking order: up the left side, then back down the right, five to a line.
std::string reading_boxes(const ShareView& view) {
  std::string text = "Next readings (" + view.unit + "), in walking order\n";
  const std::size_t half = view.walking_order.size() / 2;
  for (std::size_t i = 0; i < view.walking_order.size(); ++i) {
    const std::size_t in_side = i < half ? i : i - half;
    if (i > 0 && in_side % 5 == 0) text += '\n';
    text += fmt::format("{:>5} |________|", view.walking_order[i]);
  }
  return text + '\n';
}

}  // namespace

std::string draw_sheet_text(const ShareView& view) {
  const std::string head = heading(view);
  const std::string plan = draw_text(view.plan, kSheetColumns) + '\n';
  const std::string boxes = '\n' + reading_boxes(view);
  std::string moves = move_lines(view);
  const std::string cut = "... the rest does not fit: see the screen\n";
  // The boxes are what the sheet is for; then the plan; then the words.
  int room = kSheetLines - lines_in(head) - lines_in(boxes) - lines_in(plan);
  std::string shown_plan = plan;
  if (room < 12) {
    room += lines_in(plan);
    shown_plan.clear();
  }
  bool shortened = false;
  while (lines_in(moves) + (shortened ? 1 : 0) > room && !moves.empty()) {
    shortened = true;
    moves.pop_back();
    moves.erase(moves.rfind('\n') == std::string::npos ? 0 : moves.rfind('\n') + 1);
  }
  return head + shown_plan + moves + (shortened ? cut : "") + boxes;
}

}  // namespace weighwright::report
