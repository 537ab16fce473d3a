#include "job/indication_words.h"

#include <cmath>

#include "units/quantity.h"

namespace weighwright::job {
namespace {

/// "22,046": as US readers write thousands.
std::string with_commas(std::string digits) {
  constexpr std::size_t kGroup = 3;
  const std::size_t first = digits.starts_with('-') ? 1 : 0;
  for (std::size_t at = digits.size(); at > first + kGroup;) {
    at -= kGroup;
    digits.insert(at, ",");
  }
  return digits;
}

}  // namespace

IndicationWords::IndicationWords(const deck::Deck& deck)
    : deck_(deck), us_(deck.units == deck::UnitSystem::us), e_kg_(deck.interval_kg) {
  const double d = deck.display_kg() / (us_ ? units::kPound_kg : 1.0);
  for (double step = d / 10.0; step < 0.999 && decimals_ < 4; step *= 10.0) ++decimals_;
}

std::string IndicationWords::figure(double kg) const {
  return units::print_fixed(us_ ? kg / units::kPound_kg : kg, decimals_);
}

std::string IndicationWords::error(double kg) const {
  const std::string text = figure(kg);
  const bool is_zero = text.find_first_not_of("0.") == std::string::npos;
  return text.front() == '-' || is_zero ? text : "+" + text;
}

std::string IndicationWords::mass(double kg) const {
  return figure(kg) + " " + unit();
}

std::string IndicationWords::load(double kg) const {
  if (us_) return with_commas(units::print_fixed(kg / units::kPound_kg, 0)) + " lb";
  const double tonnes = kg / 1000.0;
  const bool round = std::abs(tonnes * 100.0 - std::round(tonnes * 100.0)) < 1e-6;
  return round && tonnes >= 1.0 ? units::print_exact(std::round(tonnes * 100.0) / 100.0) + " t"
                                : units::print_fixed(kg, 0) + " kg";
}

std::string IndicationWords::ranges() const {
  const bool apart = deck_.ranges_kind == deck::RangesKind::ranges && deck_.ranges.size() > 1;
  std::string text;
  int number = 0;
  for (const deck::Range& range : deck_.ranges) {
    text += text.empty() ? "" : ", ";
    if (apart) text += "range " + std::to_string(++number) + ": ";
    text += mass(range.interval_kg) + " to " + load(range.capacity_kg);
  }
  return text;
}

std::string IndicationWords::in_e(double kg) const {
  return units::print_fixed(kg / e_kg_, 1) + " e";
}

}  // namespace weighwright::job
