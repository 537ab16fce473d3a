#include "units/place.h"

#include <cstddef>

namespace weighwright::units {

std::string print(StandIndex stand) {
  return std::to_string(stand.section().value + 1) + (stand.side() == Side::left ? "L" : "R");
}

std::string_view print(Side side) {
  return side == Side::left ? "left" : "right";
}

std::optional<StandIndex> parse_stand(std::string_view text) {
  constexpr std::size_t kMostDigits = 4;
  if (text.size() < 2 || text.size() > kMostDigits + 1 || text.front() == '0') return std::nullopt;
  const char letter = text.back();
  if (letter != 'L' && letter != 'R') return std::nullopt;
  int number = 0;
  for (const char c : text.substr(0, text.size() - 1)) {
    if (c < '0' || c > '9') return std::nullopt;
    number = 10 * number + (c - '0');
  }
  return StandIndex::of(SectionIndex{number - 1}, letter == 'L' ? Side::left : Side::right);
}

}  // namespace weighwright::units
