#include "report/answer_view.h"
#include "report/paragraph.h"
#include "report/predict_view.h"

namespace weighwright::report {

std::string draw_text(const PredictView& view, bool brief) {
  constexpr int width = 80;
  std::string text = wrap(view.headline, width, "", "  ") + '\n' + draw_text(view.plan, width);
  for (const std::string& remark : view.remarks) text += wrap(remark, width, "  ! ", "    ");
  if (view.jack) {
    text += '\n';
    for (const std::string& sentence : view.jack->sentences)
      text += wrap(sentence, width, "", "  ");
  }
  if (brief) return text;
  text += '\n' + draw_text(view.stand_table, "") + wrap(view.stand_note, width);
  const std::string assumed = assumed_text(view.assumed, 6);
  if (!assumed.empty()) text += '\n' + assumed;
  return text;
}

}  // namespace weighwright::report
