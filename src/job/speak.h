#pragma once
/// Figures in the words and units of the person at the pit: kg and mm, or lb and in, by the deck.

#include <string>
#include <vector>

#include "deck/deck.h"

namespace weighwright::job {

class Speaker {
 public:
  explicit Speaker(const deck::Deck& deck);

  [[nodiscard]] bool us() const { return us_; }
  [[nodiscard]] const char* mass_unit() const { return us_ ? "lb" : "kg"; }
  [[nodiscard]] const char* length_unit() const { return us_ ? "in" : "mm"; }

  /// A force as the mass that weighs it here: "430 kg", "950 lb"; three significant figures at most
  /// below 1000.
  [[nodiscard]] std::string mass(double force_N) const;
  /// The figure alone.
  [[nodiscard]] std::string mass_figure(double force_N) const;
  /// "3.8 mm", "0.150 in".
  [[nodiscard]] std::string length(double length_m) const;
  [[nodiscard]] std::string length_figure(double length_m) const;
  /// "25 N m", "18 lbf ft".
  [[nodiscard]] std::string torque(double torque_Nm) const;
  /// "2.5 t", "5,500 lb" rounded up to a figure that a jack may carry on its plate.
  [[nodiscard]] std::string jack_size(double force_N) const;

 private:
  bool us_ = false;
  double gravity_m_per_s2_ = 0.0;
};

/// "1.09 mV"; always two decimals, never "-0.00".
[[nodiscard]] std::string signal(double signal_V);
[[nodiscard]] std::string signal_figure(double signal_V);

/// "84 %"; "over 99 %" and "under 1 %" at the ends, for no chance is certain.
[[nodiscard]] std::string chance(double probability);

/// "1 stand", "3 stands".
[[nodiscard]] std::string count_of(int number, const std::string& thing);

/// "a", "a and b", "a, b and c".
[[nodiscard]] std::string all_of(const std::vector<std::string>& words);

/// "A-B right".
[[nodiscard]] std::string bearing_name(const deck::Deck& deck, int joint, units::Side side);

/// "terminal 4" or "address 12" or "serial X17" of a stand's cell: the first that the deck has.
[[nodiscard]] std::string tag_of(const deck::Stand& stand);

}  // namespace weighwright::job
