#pragma once
/// Which band of intervals of a class a scale lies in.

#include "rules/rulebook.h"

namespace weighwright::rules {

/// Ends of a band in kg, from the column (kilograms or pounds) that the scale goes by.
[[nodiscard]] double least_e_kg(const IntervalBand& band, bool us);
[[nodiscard]] double most_e_kg(const IntervalBand& band, bool us);

/// @return null: the class has no such interval
[[nodiscard]] const IntervalBand* band_of(const ClassRule& rule, double interval_kg, bool us);

}  // namespace weighwright::rules
