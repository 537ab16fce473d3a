#pragma once
/// What the display showed, freed of zero and rounding, and how sure it is.
///
/// Zero    the mean of the zero readings before and after is taken off (rows with load 0 count for
///         the loaded rows between them).
/// Before rounding   with small weights added until the display changed over, P = I + d/2 - added,
///         of zero rows too
///         (OIML R 76-1:2006, A.4.4.3).
/// Spread  of one figure: rounding d / (2 sqrt 3) (JCGM 100:2008, F.2.2.1) of the loaded and of the
///         zero readings, repeatability, and where no zero was read the half interval that zero may
///         be off by (0.5 e, rectangular; common practice, no source).

#include <cstddef>
#include <optional>
#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"

namespace weighwright::trim {

struct Indication {
  std::size_t reading = 0;  // index into the file's readings
  double kg = 0.0;          // zero taken off, before rounding where that was measured
  double resolution_kg = 0.0;
  double u_kg = 0.0;  // standard uncertainty
  bool zero_read = false;
  std::optional<double>
      zero_change_kg;       // after - before; told once for all loads between two zeros
  bool from_empty = false;  // the deck was empty just before
};

/// One for each reading with something on the deck, in order; zero rows are used up.
[[nodiscard]] std::vector<Indication> indications(const deck::Deck& deck,
                                                  const std::vector<record::LoadReading>& readings);

/// Standard deviation of repeated readings, kg: from the deck file, else 0.3 d at that load.
[[nodiscard]] double repeatability_kg(const deck::Deck& deck, double load_kg);

}  // namespace weighwright::trim
