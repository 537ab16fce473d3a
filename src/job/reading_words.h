#pragma once
/// Signals in the unit in which the cells were read: nobody should have to convert at the pit.

#include <string>
#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"
#include "units/place.h"

namespace weighwright::job {

class ReadingWords {
 public:
  ReadingWords(const deck::Deck& deck, record::ReadingUnit unit);

  /// Of the last readings in a history; mV when there are none.
  static record::ReadingUnit unit_of(const std::vector<record::Measurement>& events);

  [[nodiscard]] std::string unit() const;  // "mV", "mV/V", "counts", "kg", "lb"

  /// Whether the cells give a voltage (mV or mV/V) rather than numbers of their own.
  [[nodiscard]] bool in_millivolts() const {
    return unit_ == record::ReadingUnit::mV || unit_ == record::ReadingUnit::mV_per_V;
  }

  /// The figure alone: "1.09". `excitation_V` is what the signal was read at.
  [[nodiscard]] std::string figure(units::StandIndex stand,
                                   double signal_V,
                                   double excitation_V) const;
  /// With its unit: "1.09 mV".
  [[nodiscard]] std::string with_unit(units::StandIndex stand,
                                      double signal_V,
                                      double excitation_V) const;

 private:
  const deck::Deck& deck_;
  record::ReadingUnit unit_;
};

}  // namespace weighwright::job
