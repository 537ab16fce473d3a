#pragma once
/// What an entry says of a load cell under a stand: `cell_placed` (it stands there) and
/// `cell_replaced` (it was put in another's place).
///
/// Every value is said, said to be unknown (typed `unknown`), or not said. Limits of what is taken
/// (hand estimates, no source): capacity 500 kg to 500 t, output and resistances as in a deck file.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "record/entry.h"
#include "units/place.h"

namespace weighwright::job {

inline constexpr std::string_view kUnknown = "unknown";

struct SaidFigure {
  enum class How { unsaid, unknown, known } how = How::unsaid;
  double value = 0.0;  // SI
};

struct CellEntry {
  bool replaced = false;
  std::optional<units::StandIndex> stand;  // empty: it names none of this deck
  std::string serial;                      // as typed, "unknown" too; empty: not said
  std::string old_serial;
  std::string certificate;
  std::string terminal;
  SaidFigure capacity;    // kg
  SaidFigure output;      // V/V at capacity
  SaidFigure input_ohm;   // ohm
  SaidFigure output_ohm;  // ohm
  struct Fault {
    std::string what;
    std::string expected;
  };
  std::vector<Fault> faults;  // a figure that can't be read counts as unknown
};

[[nodiscard]] bool is_cell_entry(const record::Draft& draft);

/// @pre is_cell_entry(draft)
/// @param stands  how many the deck has
[[nodiscard]] CellEntry read_cell_entry(const record::Draft& draft, int stands);

}  // namespace weighwright::job
