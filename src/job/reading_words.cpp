#include "job/reading_words.h"

#include <variant>

#include "signal/cell.h"
#include "units/quantity.h"

namespace weighwright::job {

ReadingWords::ReadingWords(const deck::Deck& deck, record::ReadingUnit unit)
    : deck_(deck), unit_(unit) {}

record::ReadingUnit ReadingWords::unit_of(const std::vector<record::Measurement>& events) {
  for (auto event = events.rbegin(); event != events.rend(); ++event) {
    if (const auto* readings = std::get_if<record::ReadingSet>(&*event)) return readings->unit;
  }
  return record::ReadingUnit::mV;
}

std::string ReadingWords::unit() const {
  switch (unit_) {
    case record::ReadingUnit::mV:
      return "mV";
    case record::ReadingUnit::mV_per_V:
      return "mV/V";
    case record::ReadingUnit::counts:
      return "counts";
    case record::ReadingUnit::kg:
      return "kg";
    case record::ReadingUnit::lb:
      return "lb";
  }
  return "mV";
}

std::string ReadingWords::figure(units::StandIndex stand,
                                 double signal_V,
                                 double excitation_V) const {
  if (unit_ == record::ReadingUnit::mV) return units::print_fixed(signal_V * 1e3, 2);
  if (unit_ == record::ReadingUnit::mV_per_V) {
    return units::print_fixed(signal_V / excitation_V * 1e3, 4);
  }
  const deck::Cell& cell = deck_.stands[static_cast<std::size_t>(stand.value)].cell;
  const double gravity = deck_.site.gravity_m_per_s2;
  const auto newtons = signal::newtons_per_unit(cell, unit_, excitation_V, gravity);
  const double per_V = signal::sensitivity_V_per_N(cell, excitation_V);
  if (!newtons || !(per_V > 0.0)) return "-";
  return units::print_fixed(signal_V / per_V / *newtons, 0);
}

std::string ReadingWords::with_unit(units::StandIndex stand,
                                    double signal_V,
                                    double excitation_V) const {
  return figure(stand, signal_V, excitation_V) + " " + unit();
}

}  // namespace weighwright::job
