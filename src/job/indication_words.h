#pragma once
/// What a display shows, in its own unit and as fine as it is worth: a tenth of d.

#include <string>

#include "deck/deck.h"

namespace weighwright::job {

class IndicationWords {
 public:
  /// @param deck  must outlive this
  explicit IndicationWords(const deck::Deck& deck);

  [[nodiscard]] const char* unit() const { return us_ ? "lb" : "kg"; }
  /// "9986", "40.5": the figure alone.
  [[nodiscard]] std::string figure(double kg) const;
  /// "+12", "-3".
  [[nodiscard]] std::string error(double kg) const;
  /// "9986 kg".
  [[nodiscard]] std::string mass(double kg) const;
  /// "10 t", "22,046 lb": a load.
  [[nodiscard]] std::string load(double kg) const;
  /// "10 kg to 30 t, 20 kg to 60 t", with numbers where they are ranges of their own; empty: one.
  [[nodiscard]] std::string ranges() const;
  /// "0.8 e".
  [[nodiscard]] std::string in_e(double kg) const;

 private:
  const deck::Deck& deck_;
  bool us_ = false;
  double e_kg_ = 1.0;
  int decimals_ = 0;
};

}  // namespace weighwright::job
