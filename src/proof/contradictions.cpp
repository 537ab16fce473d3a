#include "proof/contradictions.h"

#include <cmath>
#include <cstddef>

namespace weighwright::proof {
namespace {

using record::LoadPlace;
using rules::Check;

bool is_read_once(const Row& row) {
  return row.check != Check::repeatability && row.check != Check::zero &&
         row.check != Check::discrimination && !row.empty_deck && row.fresh && row.usable &&
         row.load.has_value();
}

bool same_place(const LoadPlace& a, const LoadPlace& b) {
  return a.kind == b.kind && a.stand.value == b.stand.value && a.section.value == b.section.value &&
         a.x_m == b.x_m && a.y_m == b.y_m;
}

bool may_be_later(const record::ProofReading& a, const record::ProofReading& b) {
  return a.time_s && b.time_s && *a.time_s != *b.time_s;
}

/// Everything that says what was weighed.
bool same_load(const Row& a, const Row& b) {
  const record::ProofReading& one = *a.reading;
  const record::ProofReading& other = *b.reading;
  return a.set == b.set && a.check == b.check && one.run == other.run &&
         one.heading == other.heading && same_place(one.reading.place, other.reading.place) &&
         one.reading.material == other.reading.material && one.weights == other.weights &&
         one.reading.load_kg == other.reading.load_kg && one.start_kg == other.start_kg &&
         !may_be_later(one, other);
}

bool same_shown(const Row& a, const Row& b) {
  return a.reading->reading.indication_kg == b.reading->reading.indication_kg &&
         a.reading->reading.added_kg == b.reading->reading.added_kg;
}

ProofFinding contradiction(const Evidence& evidence, const Row& first, const Row& second) {
  const auto limit = rules::limit_at(evidence.rulebook, evidence.scale, evidence.what.occasion,
                                     judged_as_kg(evidence, second.load->kg));
  const double apart_kg = std::abs(second.net_kg() - first.net_kg());
  const bool beyond = limit && apart_kg > limit->kg * (1.0 + 1e-9);
  const std::string where = "line " + std::to_string(first.reading->reading.line) +
                            (first.file == second.file ? "" : " of " + first.file);
  return finding_at(second, "contradiction", beyond,
                    "of the same load, place and run " + where + " says " +
                        in_kg(first.reading->reading.indication_kg) + " and this one " +
                        in_kg(second.reading->reading.indication_kg) +
                        "; a second series is run 2, a slip is struck out");
}

}  // namespace

void tell_contradictions(const Evidence& evidence, std::vector<ProofFinding>& findings) {
  const std::vector<Row>& rows = evidence.rows;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (!is_read_once(rows[i]) || rows[i].fixes) continue;
    for (std::size_t before = 0; before < i; ++before) {
      if (!is_read_once(rows[before]) || !same_load(rows[before], rows[i])) continue;
      if (!same_shown(rows[before], rows[i])) {
        findings.push_back(contradiction(evidence, rows[before], rows[i]));
      }
      break;
    }
  }
}

}  // namespace weighwright::proof
