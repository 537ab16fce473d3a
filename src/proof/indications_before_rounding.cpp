#include "proof/indications_before_rounding.h"

#include <algorithm>
#include <cmath>

#include "proof/weighing_range.h"

namespace weighwright::proof {
namespace {

constexpr double kFine_of_e = 0.2;       // d up to this needs no small weights (R 76-1, A.4.4.3)
constexpr double kSmallStep_of_d = 0.1;  // of the small weights
constexpr double kSlack = 1e-9;

Shown shown_of(const Evidence& evidence, const Row& row) {
  const record::LoadReading& reading = row.reading->reading;
  Shown shown;
  const double d = division_of(evidence, row, reading.indication_kg);
  shown.division_kg = std::min(d, reading.resolution_kg.value_or(d));
  shown.step_kg = shown.division_kg;
  shown.kg = reading.indication_kg;
  const double e = rules::interval_at_kg(scale_for(evidence, row), std::abs(reading.indication_kg));
  const bool fine = shown.division_kg <= kFine_of_e * e * (1.0 + kSlack);
  const bool small = reading.added_kg && row.check != rules::Check::discrimination;
  if (small) {
    const double before = before_rounding_kg(shown.kg, shown.division_kg, *reading.added_kg);
    shown.rounded_off_kg = before - shown.kg;
  }
  if (!evidence.rulebook.before_rounding) return shown;
  shown.before_rounding = small || fine;
  if (small) {
    shown.kg += shown.rounded_off_kg;
    shown.step_kg = kSmallStep_of_d * shown.division_kg;
  }
  return shown;
}

bool added_in_range(const Row& row) {
  const record::LoadReading& reading = row.reading->reading;
  if (!reading.added_kg || row.check == rules::Check::discrimination) return true;
  return *reading.added_kg >= 0.0 && *reading.added_kg <= row.shown.division_kg * (1.0 + kSlack);
}

}  // namespace

double before_rounding_kg(double indication_kg, double division_kg, double added_kg) {
  return indication_kg + division_kg / 2.0 - added_kg;
}

void read_indications(Evidence& evidence, std::vector<ProofFinding>& findings) {
  for (Row& row : evidence.rows) {
    row.shown = shown_of(evidence, row);
    if (added_in_range(row)) continue;
    row.usable = false;
    findings.push_back(finding_at(row, "added_out_of_range", true,
                                  "small weights of " + in_kg(*row.reading->reading.added_kg) +
                                      " until the display changed over; 0 to " +
                                      in_kg(row.shown.division_kg)));
  }
}

}  // namespace weighwright::proof
