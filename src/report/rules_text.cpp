#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "report/json_parts.h"
#include "report/paragraph.h"
#include "report/rules_view.h"

namespace weighwright::report {
namespace {

constexpr int kWidth = 80;

std::string number_text(const RuleNumberView& number) {
  return wrap(fmt::format("{} = {} [{}]", number.says, number.value, number.clause), kWidth,
              "  [ ] ", "      ") +
         wrap(number.known + "; page ______", kWidth, "      ", "      ");
}

Json number_json(const RuleNumberView& number) {
  return {{"name", number.name},     {"says", number.says},   {"value", number.value},
          {"clause", number.clause}, {"basis", number.basis}, {"known", number.known}};
}

}  // namespace

std::string draw_text(const RulesView& view) {
  std::string text = wrap("Check list of " + view.title, kWidth, "", "  ");
  if (!view.remark.empty()) text += wrap(view.remark, kWidth, "", "  ");
  text += "rulebook hash " + view.hash + '\n';
  for (const std::string& sentence : {view.says, view.known}) {
    if (!sentence.empty()) text += wrap(sentence, kWidth, "", "  ");
  }
  text += '\n';
  for (const RuleNumberView& number : view.numbers) text += number_text(number);
  if (!view.how.empty()) text += '\n';
  for (const std::string& sentence : view.how) text += wrap(sentence, kWidth, "  - ", "    ");
  return text;
}

std::string print_json(const RulesView& view) {
  Json object;
  object["rulebook"] = view.title;
  object["hash"] = view.hash;
  object["confirmed"] = view.confirmed;
  object["says"] = text_or_null(view.says);
  object["known"] = text_or_null(view.known);
  object["numbers"] = Json::array();
  for (const RuleNumberView& number : view.numbers)
    object["numbers"].push_back(number_json(number));
  object["how"] = view.how;
  return print(object);
}

}  // namespace weighwright::report
