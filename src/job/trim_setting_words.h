#pragma once
/// Which trim, which way, how far: one sentence a trim, and the guided order.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "report/trim_view.h"
#include "trim/advise.h"

namespace weighwright::job {

class TrimSettingWords {
 public:
  TrimSettingWords(const deck::Deck& deck, const trim::TrimAdvice& advice);

  [[nodiscard]] report::TrimSettingView setting(const trim::TrimSetting& setting) const;
  [[nodiscard]] report::TrimStepView step(const trim::OrderStep& step) const;
  /// "turn the trim of 2L one turn clockwise".
  [[nodiscard]] std::string learning(const trim::Learning& learning) const;
  /// "1 1/4 turns clockwise".
  [[nodiscard]] std::string turns(double turns) const;
  /// Setting of every trim in a few signs, for the plan: "+1 1/4", "4.6 ohm", "0.99874"; empty:
  /// stays.
  [[nodiscard]] std::string brief(int element) const;

 private:
  [[nodiscard]] std::string change_words(int element, double change) const;
  [[nodiscard]] std::string setting_text(const trim::TrimSetting& setting) const;
  [[nodiscard]] std::string place(int element) const;

  const deck::Deck& deck_;
  const trim::TrimAdvice& advice_;
};

/// "the trim of 2L (terminal 4)", "the trim of section 2".
[[nodiscard]] std::string trim_name(const deck::Deck& deck, const trim::Element& element);

}  // namespace weighwright::job
