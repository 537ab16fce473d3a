#include "proof/result_rows.h"

#include <cmath>
#include <cstddef>

#include "record/result_days.h"
#include "units/diagnostic.h"

namespace weighwright::proof {
namespace {

/// A small load put on an empty deck is a test of discrimination, no look at zero.
bool is_empty_deck(const record::ProofReading& proof, rules::Check check) {
  if (check == rules::Check::discrimination) return false;
  const record::LoadReading& reading = proof.reading;
  const bool nothing = reading.load_kg && *reading.load_kg == 0.0 && reading.material.empty() &&
                       reading.load_id.empty() && proof.weights.empty();
  return nothing || check == rules::Check::zero;
}

bool is_finite(const record::ProofReading& proof) {
  const record::LoadReading& reading = proof.reading;
  double sum = reading.indication_kg;
  for (const std::optional<double>& value :
       {reading.load_kg, reading.added_kg, reading.zero_before_kg, reading.zero_after_kg,
        reading.resolution_kg, proof.start_kg, proof.then_kg}) {
    sum += value.value_or(0.0);
  }
  return std::isfinite(sum) && reading.load_kg.value_or(0.0) >= 0.0;
}

void tell_stale(const ProofCase& what, int set, std::vector<ProofFinding>& findings) {
  ProofFinding finding;
  finding.code = "stale";
  finding.file = what.results[static_cast<std::size_t>(set)].source;
  finding.what = "these results are older than the last span or trim: read again as left";
  findings.push_back(std::move(finding));
}

}  // namespace

std::vector<Row> result_rows(const ProofCase& what, std::vector<ProofFinding>& findings) {
  std::vector<Row> rows;
  for (int set = 0; set < static_cast<int>(what.results.size()); ++set) {
    const record::ProofSet& results = what.results[static_cast<std::size_t>(set)];
    const bool fresh = !what.as_left || set >= what.first_fresh;
    if (!fresh && !results.readings.empty()) tell_stale(what, set, findings);
    for (const record::ProofReading& reading : results.readings) {
      Row row;
      row.reading = &reading;
      row.file = reading.source.empty() ? results.source : reading.source;
      row.set = set;
      row.day = record::day_of(reading, what.day);
      row.fresh = fresh;
      const std::optional<rules::Check> check = rules::find_check(reading.check);
      if (!check || !is_finite(reading)) {
        findings.push_back(finding_at(
            row, check ? "not_a_number" : "unknown_check", true,
            check ? "a figure is no finite number, or a load is negative; kilograms from 0 up"
                  : "there is no test " + units::quote(reading.check) +
                        "; zero, eccentric, section, rolling, increasing, decreasing, "
                        "repeatability, discrimination, strain, midspan, tare, "
                        "indications, zero_range or overload"));
        continue;
      }
      row.check = *check;
      row.empty_deck = is_empty_deck(reading, *check);
      rows.push_back(std::move(row));
    }
  }
  return rows;
}

}  // namespace weighwright::proof
