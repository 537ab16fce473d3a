#include "job/turn_words.h"

#include <array>
#include <cmath>

#include "units/quantity.h"

namespace weighwright::job {

std::string number_word(int number) {
  static constexpr std::array<const char*, 13> words = {"no",   "one",    "two",   "three", "four",
                                                        "five", "six",    "seven", "eight", "nine",
                                                        "ten",  "eleven", "twelve"};
  if (number < 0 || number > 12) return std::to_string(number);
  return words[static_cast<std::size_t>(number)];
}

std::string turns_word(double turns, int division) {
  const double size = std::abs(turns);
  return units::print_turns(size, division) + (size > 1.0 ? " turns" : " turn");
}

std::string screws_of(const deck::Stand& stand) {
  if (stand.screws == 1) return "the screw";
  if (stand.screws == 2) return "both screws";
  return "all " + number_word(stand.screws) + " screws";
}

std::string direction_of(const deck::Stand& stand, bool raises) {
  if (stand.screw_kind == deck::ScrewKind::unknown) return "";
  const bool clockwise_raises = stand.screw_kind == deck::ScrewKind::jack;
  return clockwise_raises == raises ? "clockwise" : "counterclockwise";
}

namespace {

/// Parts of a turn in one round: a quarter (or the next smaller that can be set), a half above two
/// turns. A quarter of M20 is 0.6 mm: more tilts the plate and loads the neighbours.
int parts_in_round(int parts, int division) {
  const int quarter = std::max(1, division / 4);
  return parts > 2 * division ? 2 * quarter : quarter;
}

}  // namespace

std::string rounds_of(double turns, int division, int screws) {
  const int parts = static_cast<int>(std::lround(std::abs(turns) * division));
  const std::string each = screws > 1 ? " each in rotation" : "";
  const int step = std::min(parts, parts_in_round(parts, division));
  const int rounds = parts / step;
  const int rest = parts % step;
  std::string text = turns_word(static_cast<double>(step) / division, division) + each;
  if (rounds > 1) text += ", " + number_word(rounds) + " rounds";
  if (rest > 0) {
    text += ", then " + turns_word(static_cast<double>(rest) / division, division) +
            (screws > 1 ? " each" : "");
  }
  return text;
}

std::string short_turn(double turns, int division) {
  return (turns > 0.0 ? "up " : "down ") + units::print_turns(std::abs(turns), division);
}

}  // namespace weighwright::job
