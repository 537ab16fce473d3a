#include "proof/known_weights.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>

#include "units/diagnostic.h"

namespace weighwright::proof {
namespace {

constexpr double kAlike = 1e-3;  // of a load: values by certificate against the sum as typed

bool needs_load(rules::Check check) {
  return check != rules::Check::repeatability && check != rules::Check::discrimination;
}

std::string why_unfit(const std::string& code) {
  if (code == "no_certificate") return "has no certificate, so it is no standard";
  if (code == "expired") return "has a certificate that had expired on the day of the test";
  if (code == "no_class_value") {
    return "has neither a certified value with its uncertainty nor a class that knows its nominal "
           "value; one of the two";
  }
  if (code == "uncertainty_zero") {
    return "has a certified value with an uncertainty of 0, which no certificate states: the limit "
           "of its class is taken, and without a class it is no standard; the uncertainty of the "
           "certificate";
  }
  if (code == "value_unlike_nominal") return "has a certified value unlike its nominal one";
  if (code == "doubled") return "stands twice in the list of weights";
  return "may not serve as a standard (" + code + ")";
}

const record::Weight* find_weight(const std::vector<record::Weight>& weights,
                                  const std::string& id) {
  const auto found = std::find_if(weights.begin(), weights.end(),
                                  [&](const record::Weight& weight) { return weight.id == id; });
  return found == weights.end() ? nullptr : &*found;
}

}  // namespace

void settle(Known& known, const std::vector<record::Weight>& weights) {
  std::vector<Taken> taken;
  for (const auto& [id, count] : known.counts) {
    if (count != 0) taken.push_back({.id = id, .count = std::abs(count)});
  }
  const Load load = load_of(taken, weights);
  known.standards_kg = std::abs(known.unnamed_kg) + load.kg;
  known.u_weights_kg = load.u_kg;
  known.class_error_kg = load.class_error_kg;
  known.drift_kg = load.drift_kg;
  known.class_share = load.class_share;
  known.densities_stated = load.densities_stated;
  known.volume_off_m3_per_kg = load.volume_off_m3_per_kg;
  known.certified = load.certified;
}

KnownWeights::KnownWeights(const Evidence& evidence, std::vector<ProofFinding>& findings)
    : evidence_(evidence), findings_(findings) {}

/// A weight is valid or not on the day on which it was used.
const std::vector<StandardFinding>& KnownWeights::unfit_on(std::int64_t day) {
  const auto known = unfit_.find(day);
  if (known != unfit_.end()) return known->second;
  return unfit_.emplace(day, judge_standards(evidence_.what.weights, day)).first->second;
}

std::optional<Known> KnownWeights::of_row(Row& row) {
  const record::LoadReading& reading = row.reading->reading;
  const std::vector<Taken> taken = taken_in(row);
  if (!reading.load_kg && taken.empty() && reading.material.empty()) {
    tell_unknown(row);
    return std::nullopt;
  }
  Known known;
  known.kg = reading.load_kg.value_or(0.0);
  known.unnamed_kg = known.kg;
  known.named = known.kg == 0.0;
  if (!taken.empty()) {
    take(taken, known);
    tell_unfit(row, taken);
    tell_too_many(row, taken);
    if (known.named) compare(row, known, reading.load_kg.value_or(known.kg));
  }
  settle(known, evidence_.what.weights);
  known.direct_kg = known.kg;
  return known;
}

/// A load that has a name and no mass may be weighed: it has no error.
void KnownWeights::tell_unknown(Row& row) {
  if (!needs_load(row.check) || !row.reading->reading.load_id.empty()) return;
  row.usable = false;
  findings_.push_back(finding_at(row, "load_unknown", true,
                                 "the load is not known, so no error can be told; load_kg, or the "
                                 "weights that stood there"));
}

/// Values by the papers, where every weight is in the list.
void KnownWeights::take(const std::vector<Taken>& taken, Known& known) const {
  const Load load = load_of(taken, evidence_.what.weights);
  known.named = load.unknown.empty();
  if (known.named) known.kg = load.kg;
  known.unnamed_kg = known.kg - load.kg;
  for (const Taken& one : taken) {
    if (find_weight(evidence_.what.weights, one.id) != nullptr) known.counts[one.id] += one.count;
  }
}

std::vector<Taken> KnownWeights::taken_in(Row& row) {
  std::vector<Taken> taken;
  for (const std::string& text : row.reading->weights) {
    const std::optional<Taken> one = parse_taken(text);
    const bool listed = one && find_weight(evidence_.what.weights, one->id) != nullptr;
    if (one) taken.push_back(*one);
    if (listed || !row.fresh || !told_.insert("?" + text).second) continue;
    findings_.push_back(finding_at(
        row, "unknown_weight", true,
        units::quote(text) + " is in no list of weights; an id of the list, W1 or W1*3"));
  }
  return taken;
}

/// An id may stand in a row more than once.
void KnownWeights::tell_too_many(Row& row, const std::vector<Taken>& taken) {
  std::map<std::string, int> counts;
  for (const Taken& one : taken) counts[one.id] += one.count;
  for (const auto& [id, count] : counts) {
    const record::Weight* const weight = find_weight(evidence_.what.weights, id);
    if (weight == nullptr || count <= weight->count) continue;
    row.usable = false;
    if (!row.fresh) continue;
    findings_.push_back(finding_at(
        row, "too_many_weights", true,
        std::to_string(count) + " of " + units::quote(id) + " stood there, and there are " +
            std::to_string(weight->count) + "; the weights that were used"));
  }
}

void KnownWeights::tell_unfit(const Row& row, const std::vector<Taken>& taken) {
  for (const Taken& one : taken) {
    for (const StandardFinding& unfit : unfit_on(row.day)) {
      if (unfit.id != one.id || !row.fresh) continue;
      if (!told_.insert(unfit.code + " " + unfit.id).second) continue;
      findings_.push_back(finding_at(row, unfit.code, unfit.refuses,
                                     units::quote(unfit.id) + " " + why_unfit(unfit.code)));
    }
    tell_untraced(row, one);
  }
}

void KnownWeights::tell_untraced(const Row& row, const Taken& one) {
  const record::Weight* const weight = find_weight(evidence_.what.weights, one.id);
  if (weight == nullptr || !row.fresh || !traces_to_nothing(*weight)) return;
  if (!told_.insert("untraced " + one.id).second) return;
  findings_.push_back(finding_at(
      row, "traced_to_unknown", false,
      "nobody says what " + units::quote(one.id) +
          " was compared with (traced_to): its traceability is not on record, and certified values "
          "count as if one standard stood behind all of them"));
}

void KnownWeights::compare(Row& row, const Known& known, double stated_kg) {
  if (std::abs(known.kg - stated_kg) <= kAlike * std::max(stated_kg, known.kg)) return;
  row.usable = false;
  findings_.push_back(finding_at(row, "load_unlike_weights", true,
                                 "the load is typed as " + in_kg(stated_kg) +
                                     ", the weights named are " + in_kg(known.kg) +
                                     "; the load that stood there"));
}

}  // namespace weighwright::proof
