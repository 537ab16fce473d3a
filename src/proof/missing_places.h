#pragma once
/// Places of a test that no load stood at.
///
/// Over supports   each stand; a load at a point counts for the stand that is nearest (with few
///         supports these are the quarters of the deck).
/// Sections  each, by a load in its middle or on both of its sides.
/// Rolling   both ends and the middle (thirds of the deck), in both directions
///         (R 76-1:2006, 3.6.2.4), with no less than belongs over one support: a lighter load says
///         nothing about the place it stands at (common practice, no source). A vehicle of unknown
///         mass, which has a range and no error, does only where passes are required as such.

#include <string>
#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

struct WantedPlace {
  std::string where;
  double load_kg = 0.0;  // that belongs there; 0: as it comes
  bool read = false;     // something stood there, but too little
};

[[nodiscard]] std::vector<WantedPlace> missing_supports(
    const Evidence& evidence, const std::vector<const JudgedLine*>& lines);
[[nodiscard]] std::vector<WantedPlace> missing_sections(
    const Evidence& evidence, const std::vector<const JudgedLine*>& lines);
[[nodiscard]] std::vector<WantedPlace> missing_passes(const Evidence& evidence,
                                                      const std::vector<const JudgedLine*>& lines,
                                                      bool unknown_too);

}  // namespace weighwright::proof
