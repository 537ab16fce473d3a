#pragma once
/// Is one of the repeats, or one of the spreads, unlike the others? It is flagged, never taken out:
/// what to do about it is the technician's to say.
///
/// Source  Grubbs' test for one outlier: NIST/SEMATECH e-Handbook of Statistical Methods,
///         1.3.5.17.1. Cochran's test for the largest of several variances: ISO 5725-2 (from
///         memory, unverified).
/// Limits  with three readings Grubbs' statistic can't exceed 2/sqrt 3, which is all but the
///         critical value: the test has no power and flags nothing then.

#include <optional>
#include <span>

namespace weighwright::proof {

struct OutlierTest {
  double statistic = 0.0;
  double critical = 0.0;
  int index = 0;           // of the reading, or of the set, farthest off
  bool flagged = false;    // statistic > critical
  bool powerless = false;  // too few to tell
};

enum class Sides { one, two };

/// @param alpha  chance of a false alarm
/// @return nothing with less than three readings, or where all are alike
[[nodiscard]] std::optional<OutlierTest> grubbs(std::span<const double> readings,
                                                double alpha = 0.05,
                                                Sides sides = Sides::two);

/// @param deviations  standard deviations of at least two sets, `count` (two or more) readings each
/// @return nothing where the test can't be made
[[nodiscard]] std::optional<OutlierTest> cochran(std::span<const double> deviations,
                                                 int count,
                                                 double alpha = 0.05);

}  // namespace weighwright::proof
