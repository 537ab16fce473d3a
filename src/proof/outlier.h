#pragma once
/// Is one of the repeats unlike the others? It is flagged, never taken out: what to do about it is
/// the technician's to say.
///
/// Source  Grubbs' test for one outlier: NIST/SEMATECH e-Handbook of Statistical Methods,
///         1.3.5.17.1.
/// Limits  with three readings Grubbs' statistic can't exceed 2/sqrt 3, which is all but the
///         critical value: the test has no power and flags nothing then.

#include <optional>
#include <span>

namespace weighwright::proof {

struct OutlierTest {
  double statistic = 0.0;
  double critical = 0.0;
  int index = 0;           // of the reading farthest off
  bool flagged = false;    // statistic > critical
  bool powerless = false;  // too few to tell
};

enum class Sides { one, two };

/// @param alpha  chance of a false alarm
/// @return nothing with less than three readings, or where all are alike
[[nodiscard]] std::optional<OutlierTest> grubbs(std::span<const double> readings,
                                                double alpha = 0.05,
                                                Sides sides = Sides::two);

}  // namespace weighwright::proof
