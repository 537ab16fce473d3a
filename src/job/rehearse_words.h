#pragma once
/// Words of a command to places, masses, turns; and measurements to tables as files have them.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"
#include "rehearsal/fault.h"
#include "report/rehearse_view.h"
#include "units/quantity.h"

namespace weighwright::job {

using Words = std::vector<std::string>;

[[nodiscard]] Words words_of(const std::string& line);
[[nodiscard]] std::string joined(const Words& words);

/// What is wrong with a command.
struct Refusal {
  std::string what;
  std::string expected;
};

/// Takes words from the front, one thing after the other; the first fault stays.
class Reader {
 public:
  Reader(const deck::Deck& deck, Words words) : deck_(deck), words_(std::move(words)) {}

  [[nodiscard]] bool done() const { return next_ >= words_.size(); }
  [[nodiscard]] std::string peek() const { return done() ? "" : words_[next_]; }
  /// Takes the next word when it is this one ("--" before it is as good).
  bool take(const std::string& word);
  [[nodiscard]] std::string word(const std::string& expected);
  [[nodiscard]] units::StandIndex stand();
  /// "2L", "2" (section), "2-3" (span), "3.5 m,0.6 m" without blanks around the comma: "3.5,0.6".
  [[nodiscard]] record::LoadPlace place();
  [[nodiscard]] double mass_kg();
  [[nodiscard]] double number(const std::string& expected);
  /// "3/4", "1 1/4", "-0.5".
  [[nodiscard]] double turns();
  [[nodiscard]] double quantity(units::Kind kind, const std::string& expected);
  /// "h", "degC" behind a number; optional.
  void unit(const std::string& name);
  [[nodiscard]] Words rest();
  void refuse(std::string what, std::string expected);
  /// Nothing may be left over.
  void end();
  [[nodiscard]] const std::optional<Refusal>& refusal() const { return refusal_; }

 private:
  const deck::Deck& deck_;
  Words words_;
  std::size_t next_ = 0;
  std::optional<Refusal> refusal_;
};

/// "stand_sunk 2R 5 mm", "swapped 2L,3R", "deck_touches B left".
[[nodiscard]] rehearsal::Fault read_fault(const deck::Deck& deck, Reader& reader);

void show(const record::ReadingSet& set, report::RehearseView& view);
void show(const record::TurnSet& set, report::RehearseView& view);
void show(const record::HeightSet& set, report::RehearseView& view);
void show(const record::GapSet& set, const deck::Deck& deck, report::RehearseView& view);
void show(const record::MapSet& set, report::RehearseView& view);
/// @param us  masses in lb
void show(const record::ShiftSet& set, bool us, report::RehearseView& view);
void show(const record::LoadSet& set, bool us, report::RehearseView& view);
void show(const record::ProofSet& set, report::RehearseView& view);
void show(const record::TrimSet& set, report::RehearseView& view);
void show(const record::ZeroReading& zero, bool us, report::RehearseView& view);
void show(const record::ElectricSet& set, report::RehearseView& view);
void show(const record::Look& look, report::RehearseView& view);

}  // namespace weighwright::job
