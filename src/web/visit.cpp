#include "web/visit.h"

#include "report/answer_json.h"

namespace weighwright::web {

Answer fault_answer(int status,
                    const std::string& where,
                    const std::string& what,
                    const std::string& expected) {
  Answer answer;
  answer.status = status;
  answer.body = report::print_json(units::Diagnostics{
      {.file = where, .line = 0, .column = 0, .what = what, .expected = expected}});
  return answer;
}

}  // namespace weighwright::web
