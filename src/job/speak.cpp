#include "job/speak.h"

#include <fmt/format.h>

#include <cmath>

#include "units/quantity.h"

namespace weighwright::job {
namespace {

/// 22.046 lb and 12.7 kg are told to the unit, 1234 to ten: nobody reads a stand finer than that.
double rounded(double value) {
  const double step = std::abs(value) >= 1000.0 ? 10.0 : 1.0;
  return std::round(value / step) * step;
}

std::string with_commas(double value) {
  std::string digits = fmt::format("{:.0f}", std::abs(value));
  for (int at = static_cast<int>(digits.size()) - 3; at > 0; at -= 3) {
    digits.insert(static_cast<std::size_t>(at), 1, ',');
  }
  return (value < 0.0 ? "-" : "") + digits;
}

}  // namespace

Speaker::Speaker(const deck::Deck& deck)
    : us_(deck.units == deck::UnitSystem::us), gravity_m_per_s2_(deck.site.gravity_m_per_s2) {}

std::string Speaker::mass_figure(double force_N) const {
  const double mass_kg = force_N / gravity_m_per_s2_;
  const double shown = rounded(us_ ? mass_kg / units::kPound_kg : mass_kg);
  if (us_ && std::abs(shown) >= 1000.0) return with_commas(shown);
  return units::print_fixed(shown, 0);
}

std::string Speaker::mass(double force_N) const {
  return mass_figure(force_N) + " " + mass_unit();
}

std::string Speaker::length_figure(double length_m) const {
  return us_ ? units::print_fixed(length_m / units::kInch_m, 3)
             : units::print_fixed(length_m * 1e3, 1);
}

std::string Speaker::length(double length_m) const {
  return length_figure(length_m) + " " + length_unit();
}

std::string Speaker::torque(double torque_Nm) const {
  constexpr double pound_foot_Nm =
      units::kPound_kg * units::kStandardGravity_m_per_s2 * units::kFoot_m;
  return us_ ? units::print_fixed(torque_Nm / pound_foot_Nm, 0) + " lbf ft"
             : units::print_fixed(torque_Nm, 0) + " N m";
}

std::string Speaker::jack_size(double force_N) const {
  const double mass_kg = force_N / gravity_m_per_s2_;
  if (us_) return with_commas(std::ceil(mass_kg / units::kPound_kg / 1000.0) * 1000.0) + " lb";
  return units::print_fixed(std::ceil(mass_kg / 500.0) * 0.5, 1) + " t";
}

std::string signal_figure(double signal_V) {
  return units::print_fixed(signal_V * 1e3, 2);
}

std::string signal(double signal_V) {
  return signal_figure(signal_V) + " mV";
}

std::string chance(double probability) {
  if (probability > 0.99) return "over 99 %";
  if (probability < 0.01) return "under 1 %";
  return units::print_fixed(probability * 100.0, 0) + " %";
}

std::string count_of(int number, const std::string& thing) {
  return fmt::format("{} {}{}", number, thing, number == 1 ? "" : "s");
}

std::string all_of(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " and " : ", ";
    text += words[i];
  }
  return text;
}

std::string bearing_name(const deck::Deck& deck, int joint, units::Side side) {
  const auto at = static_cast<std::size_t>(joint);
  return fmt::format("{}-{} {}", deck.modules[at].mark, deck.modules[at + 1].mark,
                     units::print(side));
}

std::string tag_of(const deck::Stand& stand) {
  const deck::Cell& cell = stand.cell;
  if (!cell.terminal.empty()) return "terminal " + cell.terminal;
  if (!cell.address.empty()) return "address " + cell.address;
  if (!cell.serial.empty()) return "serial " + cell.serial;
  return "";
}

}  // namespace weighwright::job
