#include "proof/reading_checks.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "units/quantity.h"

namespace weighwright::proof {
namespace {

constexpr double kFinest_of_d = 1e-5;
constexpr double kSlack = 1e-9;

bool is_multiple(double kg, double step_kg) {
  const double steps = kg / step_kg;
  return std::abs(steps - std::round(steps)) <= 1e-6 * std::max(1.0, std::abs(steps));
}

/// As it was typed, however small.
std::string exactly(double kg) {
  return units::print_exact(kg) + " kg";
}

class ReadingChecker {
 public:
  ReadingChecker(Evidence& evidence, std::vector<ProofFinding>& findings)
      : evidence_(evidence),
        findings_(findings),
        widest_kg_(division_at_kg(evidence.deck, evidence.scale.capacity_kg)),
        finest_kg_(kFinest_of_d * division_at_kg(evidence.deck, 0.0)) {}

  void check() {
    for (Row& row : evidence_.rows) {
      const auto& resolution = row.reading->reading.resolution_kg;
      if (!resolution) {
        tell_off_division(row);
      } else if (is_likely(*resolution)) {
        check_multiple(row, *resolution);
      } else {
        refuse_resolution(row, *resolution);
      }
    }
  }

 private:
  [[nodiscard]] bool is_likely(double resolution_kg) const {
    return resolution_kg <= widest_kg_ * (1.0 + kSlack) &&
           resolution_kg >= finest_kg_ * (1.0 - kSlack);
  }

  /// Said once for each figure: a column is filled in alike.
  void refuse_resolution(Row& row, double resolution_kg) {
    row.usable = false;
    if (!row.fresh || !told_.insert(resolution_kg).second) return;
    findings_.push_back(finding_at(row, "resolution_unlikely", true,
                                   "a resolution of " + exactly(resolution_kg) +
                                       "; one step of the display, " + exactly(finest_kg_) +
                                       " to " + exactly(widest_kg_) + " on this scale"));
  }

  void check_multiple(const Row& row, double resolution_kg) {
    const double shown_kg = row.reading->reading.indication_kg;
    const double then_kg = row.reading->then_kg.value_or(0.0);
    const bool first = is_multiple(shown_kg, resolution_kg);
    if (first && is_multiple(then_kg, resolution_kg)) return;
    if (!row.fresh) return;
    findings_.push_back(finding_at(row, "off_resolution", true,
                                   exactly(first ? then_kg : shown_kg) +
                                       " can't be shown in steps of " + exactly(resolution_kg) +
                                       "; what the display showed, or the step that it shows"));
  }

  void tell_off_division(const Row& row) {
    const double shown_kg = row.reading->reading.indication_kg;
    const double d_kg = division_at_kg(evidence_.deck, shown_kg);
    if (!row.fresh || told_off_ || !(d_kg > 0.0) || is_multiple(shown_kg, d_kg)) return;
    told_off_ = true;
    findings_.push_back(finding_at(
        row, "off_division", false,
        exactly(shown_kg) + " lies between the divisions of " + exactly(d_kg) +
            ", and no resolution is stated: a rounding of a whole division is counted; where the "
            "display shows finer steps, resolution says so"));
  }

  Evidence& evidence_;
  std::vector<ProofFinding>& findings_;
  double widest_kg_;
  double finest_kg_;
  std::set<double> told_;
  bool told_off_ = false;
};

}  // namespace

void check_readings(Evidence& evidence, std::vector<ProofFinding>& findings) {
  ReadingChecker(evidence, findings).check();
}

}  // namespace weighwright::proof
