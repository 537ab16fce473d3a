#include "rules/bands.h"

#include <algorithm>

#include "rules/counts.h"
#include "units/quantity.h"

namespace weighwright::rules {

double least_e_kg(const IntervalBand& band, bool us) {
  return us && band.least_e_lb > 0.0 ? band.least_e_lb * units::kPound_kg : band.least_e_kg;
}

double most_e_kg(const IntervalBand& band, bool us) {
  if (!us || (band.least_e_lb == 0.0 && band.most_e_lb == 0.0)) return band.most_e_kg;
  return band.most_e_lb > 0.0 ? band.most_e_lb * units::kPound_kg : kNoEnd;
}

const IntervalBand* band_of(const ClassRule& rule, double interval_kg, bool us) {
  const auto holds = [&](const IntervalBand& band) {
    const double most_kg = most_e_kg(band, us);
    return counts_of(interval_kg) >= counts_of(least_e_kg(band, us)) &&
           (most_kg == kNoEnd || counts_of(interval_kg) <= counts_of(most_kg));
  };
  const auto found = std::find_if(rule.bands.begin(), rule.bands.end(), holds);
  return found == rule.bands.end() ? nullptr : &*found;
}

}  // namespace weighwright::rules
