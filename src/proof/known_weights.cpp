#include "proof/known_weights.h"

#include <algorithm>
#include <cmath>

#include "units/diagnostic.h"

namespace weighwright::proof {
namespace {

constexpr double kAlike = 1e-3;  // of a load: values by certificate against the sum as typed

bool needs_load(rules::Check check) {
  return check != rules::Check::repeatability && check != rules::Check::discrimination;
}

std::string why_unfit(const std::string& code) {
  if (code == "no_certificate") return "has neither a class nor a certificate";
  if (code == "expired") return "has a certificate that had expired on the day of the test";
  if (code == "no_class_value") return "is of no nominal value that its class knows; a certificate";
  if (code == "value_unlike_nominal") return "has a certified value unlike its nominal one";
  if (code == "doubled") return "stands twice in the list of weights";
  return "may not serve as a standard (" + code + ")";
}

}  // namespace

KnownWeights::KnownWeights(const Evidence& evidence, std::vector<ProofFinding>& findings)
    : evidence_(evidence),
      findings_(findings),
      unfit_(judge_standards(evidence.what.weights, evidence.what.day)) {}

std::optional<Known> KnownWeights::of_row(Row& row) {
  const record::LoadReading& reading = row.reading->reading;
  const std::vector<Taken> taken = taken_in(row);
  if (!reading.load_kg && taken.empty() && reading.material.empty()) {
    tell_unknown(row);
    return std::nullopt;
  }
  Known known;
  known.kg = reading.load_kg.value_or(0.0);
  known.named = known.kg == 0.0;
  if (!taken.empty()) {
    take(taken, known);
    tell_unfit(row, taken);
    if (known.named) compare(row, known, reading.load_kg.value_or(known.kg));
  }
  known.standards_kg = known.kg;
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
  known.u_weights_kg = load.u_kg;
  known.class_error_kg = load.class_error_kg;
  known.class_share = load.class_share;
  known.drift_kg = load.drift_kg;
  if (known.named) known.kg = load.kg;
  for (const record::Weight& weight : evidence_.what.weights) {
    const bool used = std::any_of(taken.begin(), taken.end(),
                                  [&](const Taken& one) { return one.id == weight.id; });
    known.certified |= used && weight.uncertainty_kg.has_value();
  }
}

std::vector<Taken> KnownWeights::taken_in(Row& row) {
  std::vector<Taken> taken;
  for (const std::string& text : row.reading->weights) {
    const std::optional<Taken> one = parse_taken(text);
    const bool listed =
        one && std::any_of(evidence_.what.weights.begin(), evidence_.what.weights.end(),
                           [&](const record::Weight& weight) { return weight.id == one->id; });
    if (one) taken.push_back(*one);
    if (listed || !row.fresh || !told_.insert("?" + text).second) continue;
    findings_.push_back(finding_at(
        row, "unknown_weight", true,
        units::quote(text) + " is in no list of weights; an id of the list, W1 or W1*3"));
  }
  return taken;
}

void KnownWeights::tell_unfit(const Row& row, const std::vector<Taken>& taken) {
  for (const Taken& one : taken) {
    for (const StandardFinding& unfit : unfit_) {
      if (unfit.id != one.id || !row.fresh) continue;
      if (!told_.insert(unfit.code + " " + unfit.id).second) continue;
      findings_.push_back(finding_at(row, unfit.code, unfit.refuses,
                                     units::quote(unfit.id) + " " + why_unfit(unfit.code)));
    }
  }
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
