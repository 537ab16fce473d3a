#pragma once
/// Do cells, indicator, cable and load receptor fit together? Each inequality with both its sides.
///
/// Model   Module compatibility of OIML R 76-1:2006, Annex F, for cells that carry the receptor
///         directly (R = 1): class, temperature, fractions of error, numbers of intervals, capacity
///         of the cells with Q = (Max + DL + IZSR + NUD + T+) / Max, dead load return, least dead
///         load, least interval with the square root of the number of cells, signal at dead load,
///         signal of an interval, load on the supply, cable.
///         H44: v_min <= d / sqrt(N), and what the indicator's data ask for.
/// Source  R 76-1:2006, 3.10.2 and 4.12, through articles of the OIML Bulletin that quote them
///         (2009/02, 1995/04, 1996/03). Rows whose text could not be read in any source have
///         `source_unverified`. NIST Handbook 44, 2.20, S.5.4: from memory, unverified.
/// Limits  Levers (R other than 1) are left out. Cells of several kinds: the one that fares worst
/// is
///         judged in every row.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"

namespace weighwright::signal {

enum class Verdict { holds, fails, not_judged };

struct Inequality {
  std::string code;    // stable name of the row, "cell_interval"
  std::string clause;  // "R 76-1:2006, 4.12.2"
  std::string what;    // a sentence for people
  std::string left_name;
  std::string right_name;
  std::string relation;  // "<=" or ">=": left relation right
  std::optional<double> left;
  std::optional<double> right;
  std::string left_text;  // where what is compared is no number (classes)
  std::string right_text;
  std::string unit;  // SI; kg, V, ohm, degC, m/m2 or empty
  Verdict verdict = Verdict::not_judged;
  std::vector<std::string> missing;  // keys of the deck file that would let it be judged
  std::optional<double> margin;      // room left over the bound: 0.2 is a fifth, negative fails
  bool source_unverified = false;
};

struct Compatibility {
  std::vector<Inequality> rows;
  std::vector<deck::Assumed> assumed;  // what nobody stated and a rule or habit filled in
  std::vector<std::string> remarks;
  [[nodiscard]] bool fails() const;
  [[nodiscard]] bool all_hold() const;  // nothing fails and nothing was left unjudged
};

/// Never throws on a deck that the reader accepts; what is missing is told row by row.
[[nodiscard]] Compatibility compatibility(const deck::Deck& deck);

}  // namespace weighwright::signal
