#include "rules/words.h"

#include <cmath>

#include "units/quantity.h"

namespace weighwright::rules {

std::string number_words(double value) {
  std::string text = units::print_fixed(value, 6);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return text;
}

std::string mass_words(double kg, bool us) {
  return us ? number_words(kg / units::kPound_kg) + " lb" : number_words(kg) + " kg";
}

std::string share_words(double share) {
  constexpr double kSame = 1e-9;
  const double tenths = share * 1000.0;
  if (std::abs(tenths - std::round(tenths)) < kSame * 1000.0)
    return number_words(share * 100.0) + " %";
  const double parts = 1.0 / share;
  if (std::abs(parts - std::round(parts)) < kSame * parts) return "1/" + number_words(parts);
  return number_words(share * 100.0) + " %";
}

}  // namespace weighwright::rules
