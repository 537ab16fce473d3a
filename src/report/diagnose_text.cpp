#include <fmt/format.h>

#include "report/answer_view.h"
#include "report/diagnose_view.h"
#include "report/paragraph.h"

namespace weighwright::report {
namespace {

constexpr int kWidth = 80;
constexpr std::size_t kMostCauses = 5;
constexpr std::size_t kMostEvidence = 3;
constexpr double kWorthATell = 0.01;
constexpr double kWorthATellIfFine = 0.05;
constexpr std::size_t kMostAssumed = 4;

/// Causes that can't be told from one told already are named there.
bool told_before(const DiagnoseView& view, std::size_t index) {
  for (std::size_t i = 0; i < index; ++i) {
    if (view.causes[i].alike == view.causes[index].alike) return true;
  }
  return false;
}

std::string causes_text(const DiagnoseView& view) {
  std::string text;
  std::size_t told = 0;
  const double worth_telling = view.fine ? kWorthATellIfFine : kWorthATell;
  for (std::size_t c = 0; c < view.causes.size(); ++c) {
    const FaultView& cause = view.causes[c];
    if (told == kMostCauses || (told > 0 && cause.probability < worth_telling)) break;
    if (told_before(view, c)) continue;
    text += wrap(cause.sentence, kWidth, fmt::format("  {}. ", ++told), "     ");
    for (std::size_t i = 0; i < cause.evidence.size() && i < kMostEvidence && told <= 3; ++i) {
      text += wrap(cause.evidence[i].sentence, kWidth, "     - ", "       ");
    }
    if (!cause.remedy.empty() && told <= 2 && !view.fine) {
      text += wrap("If so: " + cause.remedy, kWidth, "     ", "     ");
    }
  }
  return text.empty() ? "" : "\nWhat it may be\n" + text;
}

std::string next_text(const DiagnoseView& view) {
  if (view.next.empty()) return "";
  std::string text = "\nNext, the first tells most for its time\n";
  int number = 0;
  for (const NextView& next : view.next) {
    text += wrap(next.instruction, kWidth, fmt::format("  {}. ", ++number), "     ");
    text += wrap(next.shows, kWidth, "     ", "     ");
    for (const std::string& caution : next.cautions)
      text += wrap(caution, kWidth, "     ! ", "       ");
  }
  return text;
}

std::string leave_text(const DiagnoseView& view) {
  if (view.do_not_touch.empty()) return "";
  std::string text = "\nDo not touch meanwhile\n";
  for (const DoNotTouchView& one : view.do_not_touch) {
    text += wrap(one.sentence, kWidth, "  - ", "    ");
  }
  return text;
}

}  // namespace

std::string draw_text(const DiagnoseView& view) {
  std::string text = wrap("Diagnosis: " + view.deck_name, kWidth, "", "  ");
  text += wrap(view.headline + " " + view.verdict, kWidth, "", "  ");
  if (!view.hold_reason.empty()) text += wrap(view.hold_reason, kWidth, "! ", "  ");
  text += causes_text(view);
  text += next_text(view);
  text += leave_text(view);
  for (const std::string& note : view.notes) text += '\n' + wrap("Note: " + note, kWidth, "", "  ");
  if (!view.assumed.empty()) {
    text += '\n' + assumed_text(view.assumed, static_cast<int>(kMostAssumed));
  }
  return text;
}

}  // namespace weighwright::report
