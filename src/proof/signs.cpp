#include "proof/signs.h"

#include <cmath>
#include <string>
#include <utility>

#include "proof/line_fit.h"
#include "proof/outlier.h"
#include "proof/ranges.h"

namespace weighwright::proof {
namespace {

constexpr double kSure = 2.0;             // standard uncertainties of the slope
constexpr std::size_t kLeastLoads = 3;    // of a line that can bend
constexpr std::size_t kLeastRepeats = 4;  // among three Grubbs' test has no power

ProofFinding finding(const char* code, std::string what) {
  ProofFinding told;
  told.code = code;
  told.what = std::move(what);
  return told;
}

void tell_slope(const Evidence& evidence,
                const std::vector<JudgedLine>& lines,
                std::vector<ProofFinding>& findings) {
  std::vector<double> loads;
  std::vector<double> errors;
  std::vector<double> doubts;
  for (const JudgedLine& line : lines) {
    if (line.check != rules::Check::increasing || !line.judged || !line.budget) continue;
    if (line.by_strain || !(line.budget->u_kg > 0.0)) continue;
    loads.push_back(line.load_kg);
    errors.push_back(line.error_kg);
    doubts.push_back(line.budget->u_kg);
  }
  if (loads.size() < kLeastLoads) return;
  const auto fit = fit_polynomial(loads, errors, doubts, 1);
  if (!fit) return;
  const double slope = fit->coefficients(1);
  const double u_slope = std::sqrt(fit->covariance(1, 1));
  if (!(std::abs(slope) > kSure * u_slope)) return;
  const double at_max = slope * evidence.scale.capacity_kg;
  findings.push_back(finding("span_off", std::string("errors ") + (slope > 0.0 ? "rise" : "fall") +
                                             " with the load, by about " +
                                             in_kg(std::round(std::abs(at_max))) +
                                             " at Max: a matter of the span"));
}

void tell_outliers(const Evidence& evidence, std::vector<ProofFinding>& findings) {
  for (const SameLoad& group : same_loads(evidence, rules::Check::repeatability)) {
    if (group.rows.size() < kLeastRepeats) continue;
    std::vector<double> shown;
    shown.reserve(group.rows.size());
    for (const Row* row : group.rows) shown.push_back(row->net_kg());
    const auto test = grubbs(shown);
    if (!test || !test->flagged) continue;
    const Row& row = *group.rows[static_cast<std::size_t>(test->index)];
    findings.push_back(
        finding_at(row, "outlier", false,
                   "of " + std::to_string(shown.size()) + " weighings of one load that of " +
                       in_kg(row.net_kg()) +
                       " is unlike the others (Grubbs' test at 5 %); it counts all the same"));
  }
}

}  // namespace

void tell_signs(const Evidence& evidence,
                const std::vector<JudgedLine>& lines,
                std::vector<ProofFinding>& findings) {
  tell_slope(evidence, lines, findings);
  tell_outliers(evidence, findings);
}

}  // namespace weighwright::proof
