#include <fmt/format.h>

#include "report/answer_view.h"
#include "report/paragraph.h"
#include "report/span_view.h"

namespace weighwright::report {
namespace {

constexpr int kWidth = 80;

std::string list(const std::vector<std::string>& sentences, const char* first) {
  std::string text;
  for (const std::string& sentence : sentences) text += wrap(sentence, kWidth, first, "    ");
  return text;
}

std::string findings_text(const SpanView& view) {
  std::string text;
  for (const SpanFindingView& finding : view.findings) {
    text += wrap(finding.sentence, kWidth, finding.blocks ? "  WRONG: " : "  ? ", "    ");
    if (!finding.look.empty()) text += wrap("Look: " + finding.look, kWidth, "    ", "    ");
  }
  return text.empty() ? "" : "\nReadings judged\n" + text;
}

std::string steps_text(const SpanView& view) {
  if (view.steps.empty()) return "";
  std::string text = "\nDo now\n" + list(view.cautions, "  ! ");
  int number = 0;
  for (const std::string& step : view.steps) {
    text += wrap(step, kWidth, fmt::format("{:2}. ", ++number), "    ");
  }
  return text;
}

std::string theory_text(const SpanView& view) {
  if (!view.theory) return view.no_theory.empty() ? "" : '\n' + wrap(view.no_theory, kWidth);
  return "\nFrom the cells' own papers\n" + list(view.theory->sentences, "  - ");
}

}  // namespace

std::string draw_text(const SpanView& view) {
  std::string text = wrap("Span: " + view.deck_name, kWidth, "", "  ");
  text += wrap(view.headline + " " + view.verdict, kWidth, "", "  ");
  text += list(view.open, "  ! ");
  text += findings_text(view);
  text += steps_text(view);
  if (!view.point_table.rows.empty()) text += "\nLoads\n" + draw_text(view.point_table);
  if (!view.later_table.rows.empty()) {
    text += "\nWhat later readings will be\n" + draw_text(view.later_table);
  }
  text += theory_text(view);
  if (!view.notes.empty()) text += '\n' + list(view.notes, "  - ");
  if (!view.assumed.empty()) {
    text += '\n' + assumed_text(view.assumed, static_cast<int>(view.assumed.size()));
  }
  return text;
}

}  // namespace weighwright::report
