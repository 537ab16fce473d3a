#include "job/users_units.h"

#include <cmath>
#include <string_view>

#include "job/indication_words.h"
#include "record/typed_number.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

/// Where the figure begins that ends at `end`; `end` itself when there is none.
std::size_t figure_before(std::string_view text, std::size_t end) {
  std::size_t at = end;
  while (at > 0 && std::string_view("0123456789.-").find(text[at - 1]) != std::string_view::npos)
    --at;
  return at;
}

/// Whole pounds where they are near, else to a tenth.
std::string in_pounds_words(const deck::Deck& deck, double kg) {
  constexpr double kNear_lb = 0.02;
  const double lb = kg / units::kPound_kg;
  if (std::abs(lb - std::round(lb)) < kNear_lb) return IndicationWords(deck).load(kg);
  return units::print_fixed(lb, 1) + " lb";
}

}  // namespace

std::string in_users_units(const deck::Deck& deck, const std::string& sentence) {
  if (deck.units != deck::UnitSystem::us) return sentence;
  static constexpr std::string_view kUnit = " kg";
  std::string text;
  std::size_t from = 0;
  for (std::size_t at = sentence.find(kUnit); at != std::string::npos;
       at = sentence.find(kUnit, from)) {
    const std::size_t begin = figure_before(sentence, at);
    const std::size_t after = at + kUnit.size();
    const bool word = after < sentence.size() && sentence[after] == '/';  // kg/m3
    const auto number = record::read_number(sentence.substr(begin, at - begin));
    const bool figure =
        begin < at && !word && begin >= from && number.fault == record::TypedNumber::Fault::none;
    text += sentence.substr(from, (figure ? begin : after) - from);
    if (figure) text += in_pounds_words(deck, number.value);
    from = after;
  }
  return text + sentence.substr(from);
}

}  // namespace weighwright::job
