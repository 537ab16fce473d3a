#include <fmt/format.h>

#include "report/answer_view.h"
#include "report/paragraph.h"
#include "report/share_view.h"

namespace weighwright::report {
namespace {

constexpr int kWidth = 80;

/// What holds is said in one breath; what fails or can't be judged has lines of its own.
std::string judged_text(const ShareView& view) {
  std::string text;
  std::string holding;
  for (const JudgementView& judgement : view.judgements) {
    if (judgement.sentence.empty()) continue;
    if (judgement.verdict == "holds") {
      holding += (holding.empty() ? "" : " ") + judgement.sentence;
    } else {
      const bool fails = judgement.verdict == "fails";
      text += wrap(judgement.sentence, kWidth, fails ? "  WRONG: " : "  ? ", "    ");
    }
  }
  if (!holding.empty()) text = wrap(holding, kWidth, "  ok: ", "    ") + text;
  return text.empty() ? "" : "\nReadings judged\n" + text;
}

std::string cannot_fix_text(const ShareView& view) {
  if (view.cannot_fix.empty()) return "";
  std::string text = "\nNo screw mends this\n";
  for (const CannotFixView& item : view.cannot_fix) {
    text += wrap(item.reason, kWidth, "  - ", "    ");
    if (!item.evidence.empty()) text += wrap("Seen: " + item.evidence, kWidth, "    ", "    ");
    if (!item.look.empty()) text += wrap("Look: " + item.look, kWidth, "    ", "    ");
  }
  return text;
}

std::string asks_text(const ShareView& view) {
  if (view.asks.empty()) return "";
  std::string text = view.moves.empty()
                         ? "\nMeasure first\n"
                         : "\nFirst, where it can be had: it is worth more than a turn\n";
  for (const AskView& ask : view.asks) {
    text += wrap(ask.sentence + " " + ask.why, kWidth, "  - ", "    ");
  }
  return text;
}

std::string moves_text(const std::vector<MoveView>& moves) {
  std::string text;
  int number = 0;
  for (const MoveView& move : moves) {
    const std::string first = fmt::format("{:2}. ", ++number);
    text += wrap(move.instruction + " " + move.jacking, kWidth, first, "    ");
    text += wrap("Why: " + move.why, kWidth, "    ", "    ");
  }
  return text;
}

std::string do_text(const ShareView& view) {
  if (view.moves.empty()) return "";
  std::string text = "\nDo now, in this order\n";
  for (const std::string& caution : view.cautions) text += wrap(caution, kWidth, "  ! ", "    ");
  text += moves_text(view.moves);
  if (!view.after.empty()) text += wrap(view.after, kWidth, "    ", "    ");
  return text;
}

std::string gentler_text(const ShareView& view) {
  if (view.gentler.empty()) return "";
  std::string text = view.gentler_sentence;
  for (const MoveView& move : view.gentler) {
    text += (&move == &view.gentler.front() ? " " : ", ") + move.stand + " " + move.short_form;
  }
  return "\n" + wrap(text + ".", kWidth, "", "  ");
}

std::string assumed_line(const ShareView& view) {
  if (view.assumed.empty()) return "";
  return "\n" + assumed_text(view.assumed, static_cast<int>(view.assumed.size()));
}

}  // namespace

std::string draw_text(const ShareView& view) {
  std::string text = wrap("Dead-load balance: " + view.deck_name, kWidth, "", "  ");
  text += wrap(view.headline + " " + view.verdict, kWidth, "", "  ") + '\n';
  text += draw_text(view.plan, kWidth);
  if (!view.because.empty()) text += wrap(view.because, kWidth, "", "  ");
  text += judged_text(view);
  text += cannot_fix_text(view);
  // A gap that is known beats any calculation: it is asked for before a screw is turned.
  text += asks_text(view);
  text += do_text(view);
  text += gentler_text(view);
  return text + assumed_line(view);
}

}  // namespace weighwright::report
