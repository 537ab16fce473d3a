#include "share/advice.h"

namespace weighwright::share {

const char* print(Code code) {
  switch (code) {
    case Code::section_sum:
      return "section_sum";
    case Code::swapped_pair:
      return "swapped_pair";
    case Code::wrong_capacity:
      return "wrong_capacity";
    case Code::reversed:
      return "reversed";
    case Code::dead_cell:
      return "dead_cell";
    case Code::bearing_open:
      return "bearing_open";
    case Code::stand_free:
      return "stand_free";
    case Code::touching:
      return "touching";
    case Code::roll:
      return "roll";
    case Code::unknown:
      break;
  }
  return "unknown";
}

}  // namespace weighwright::share
