#include <fmt/format.h>

#include "report/answer_view.h"
#include "report/paragraph.h"
#include "report/trim_view.h"

namespace weighwright::report {
namespace {

constexpr int kWidth = 80;

std::string lines(const std::vector<std::string>& sentences, const char* first) {
  std::string text;
  for (const std::string& sentence : sentences) text += wrap(sentence, kWidth, first, "    ");
  return text;
}

std::string findings_text(const TrimView& view) {
  std::string text;
  for (const TrimFindingView& finding : view.findings) {
    text += wrap(finding.sentence, kWidth, finding.blocks ? "  WRONG: " : "  ? ", "    ");
    if (!finding.look.empty()) text += wrap("Look: " + finding.look, kWidth, "    ", "    ");
  }
  return text.empty() ? "" : "\nReadings judged\n" + text;
}

std::string do_text(const TrimView& view) {
  if (view.trims.empty() && !view.learn) return "";
  std::string text = view.learn ? "\nDo first\n" : "\nSet these trims, all at once\n";
  text += lines(view.cautions, "  ! ");
  if (view.learn) text += wrap(*view.learn, kWidth, "  - ", "    ");
  for (const TrimSettingView& trim : view.trims) {
    text += wrap(trim.instruction, kWidth, "  - ", "    ");
  }
  if (!view.after.empty()) text += wrap(view.after, kWidth, "    ", "    ");
  return text;
}

std::string order_text(const TrimView& view) {
  if (view.order.empty()) return "";
  std::string text = "\nOr one after the other, pairs first (the same settings in the end)\n";
  int number = 0;
  for (const TrimStepView& step : view.order) {
    text += wrap(step.sentence, kWidth, fmt::format("{:2}. ", ++number), "    ");
  }
  return text + wrap(view.order_note, kWidth, "    ", "    ");
}

std::string open_text(const TrimView& view) {
  if (view.undetermined_sentence.empty()) return "";
  return '\n' + wrap(view.undetermined_sentence, kWidth, "", "  ");
}

std::string more_text(const TrimView& view) {
  if (view.more_table.rows.empty()) return "";
  return "\nWhat more placements would bring\n" + draw_text(view.more_table);
}

std::string assumed_line(const std::vector<deck::Assumed>& assumed) {
  if (assumed.empty()) return "";
  return '\n' + assumed_text(assumed, static_cast<int>(assumed.size()));
}

}  // namespace

std::string draw_text(const TrimView& view) {
  std::string text = wrap("Corner adjustment: " + view.deck_name, kWidth, "", "  ");
  text += wrap(view.headline + " " + view.verdict, kWidth, "", "  ") + '\n';
  text += draw_text(view.plan, kWidth);
  text += open_text(view);
  text += findings_text(view);
  text += do_text(view);
  if (!view.learned.empty()) text += '\n' + wrap(view.learned, kWidth, "", "  ");
  text += "\nPlaces\n" + draw_text(view.point_table) + wrap(view.point_note, kWidth);
  text += order_text(view);
  text += more_text(view);
  return text + assumed_line(view.assumed);
}

std::string draw_text(const PlacementsView& view) {
  std::string text = wrap("Placements for corner adjustment: " + view.deck_name, kWidth, "", "  ");
  text += wrap(view.headline, kWidth, "", "  ");
  if (!view.places.empty()) {
    text += '\n';
    int number = 0;
    for (const std::string& place : view.places) {
      text += wrap(place, kWidth, fmt::format("{:2}. ", ++number), "    ");
    }
  }
  text += '\n' + draw_text(view.table);
  text += lines(view.notes, "  - ");
  text += lines(view.cautions, "  ! ");
  return text + assumed_line(view.assumed);
}

}  // namespace weighwright::report
