#include "proof/doubts.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>

#include "proof/line_budget.h"
#include "proof/ranges.h"
#include "record/local_time.h"

namespace weighwright::proof {
namespace {

using rules::Check;

struct TermName {
  std::string_view code;
  std::string_view name;
};

constexpr std::array<TermName, 9> kNames = {{
    {"resolution_load", "rounding at the load"},
    {"resolution_zero", "rounding at zero"},
    {"zero_not_read", "a zero that was not read"},
    {"repeatability", "repeatability"},
    {"eccentricity", "where the load stands"},
    {"weights", "the weights"},
    {"weights_drift", "drift of the weights"},
    {"buoyancy", "buoyancy"},
    {"substitution", "substitution"},
}};

std::string name_of(const Budget& budget) {
  if (budget.leads < 0) return "nothing";
  const std::string& code = budget.terms[static_cast<std::size_t>(budget.leads)].code;
  const auto* const found = std::find_if(kNames.begin(), kNames.end(),
                                         [&](const TermName& term) { return term.code == code; });
  return found == kNames.end() ? code : std::string(found->name);
}

void tell_capability(const std::vector<JudgedLine>& lines, std::vector<ProofFinding>& findings) {
  int decided = 0;
  int incapable = 0;
  double worst = 0.0;
  const JudgedLine* line_of_worst = nullptr;
  for (const JudgedLine& line : lines) {
    if (!line.judged || !line.limit || !line.budget || !line.decision) continue;
    ++decided;
    if (line.decision->capable) continue;
    ++incapable;
    const double share = line.limit->kg > 0.0 ? line.budget->U_kg / line.limit->kg : 0.0;
    if (line_of_worst != nullptr && share <= worst) continue;
    worst = share;
    line_of_worst = &line;
  }
  if (line_of_worst == nullptr) return;
  ProofFinding finding;
  finding.code = "not_capable";
  finding.file = line_of_worst->file;
  finding.line = line_of_worst->line;
  finding.what = std::to_string(incapable) + " of " + std::to_string(decided) +
                 " lines have an uncertainty above a third of their limit; at worst " +
                 in_kg(line_of_worst->budget->U_kg) + " of " + in_kg(line_of_worst->limit->kg) +
                 ", most of it by " + name_of(*line_of_worst->budget);
  finding.source = {
      .clause = "8.2.3", .basis = rules::Basis::read, .carrier = {}, .document = "JCGM 106:2012"};
  findings.push_back(std::move(finding));
}

/// Where a limit is that of the step, or of Max, that a load counts as, it is said once.
void tell_nominal(const std::vector<JudgedLine>& lines, std::vector<ProofFinding>& findings) {
  const auto counts = [](const JudgedLine& line) {
    return line.limit.has_value() && line.judged_as_kg < line.load_kg;
  };
  const auto first = std::find_if(lines.begin(), lines.end(), counts);
  if (first == lines.end()) return;
  const auto count = std::count_if(lines.begin(), lines.end(), counts);
  ProofFinding finding;
  finding.code = "counted_as_nominal";
  finding.file = first->file;
  finding.line = first->line;
  finding.what = in_kg(first->load_kg) + " counts as " + in_kg(first->judged_as_kg);
  if (count > 1) finding.what += ", and so do others (" + std::to_string(count) + " lines)";
  finding.what +=
      ": no more than a third of the limit above it (our own allowance, of the size of R 76-1, "
      "3.7.1); the limit is that of the lower load, the error that of the value weighed";
  findings.push_back(std::move(finding));
}

bool was_compared(const Evidence& evidence, Check check) {
  const std::vector<SameLoad> groups = same_loads(evidence, check);
  return std::any_of(groups.begin(), groups.end(), [](const SameLoad& group) {
    return group.known && group.rows.size() > 1 && group.load_kg > 0.0;
  });
}

void tell_eccentricity(const Evidence& evidence,
                       const std::vector<JudgedLine>& lines,
                       std::vector<ProofFinding>& findings) {
  const bool wanted = std::any_of(lines.begin(), lines.end(), [](const JudgedLine& line) {
    return line.judged && stands_anywhere(line.check);
  });
  if (!wanted) return;
  for (const Check check : {Check::eccentric, Check::section, Check::rolling}) {
    if (was_compared(evidence, check)) return;
  }
  ProofFinding finding;
  finding.code = "eccentricity_not_measured";
  finding.what =
      "no load was weighed at several places: the uncertainty says nothing of where a load stands";
  findings.push_back(std::move(finding));
}

/// Once, at the first of them: what mends it mends all. What is stale anyway counts for nothing.
void tell_order(const ProofCase& what, std::vector<ProofFinding>& findings) {
  for (const int index : what.order_unknown) {
    const auto set = static_cast<std::size_t>(index);
    if (index < what.first_fresh || set >= what.results.size()) continue;
    ProofFinding finding;
    finding.code = "order_unknown";
    finding.blocks = true;
    finding.file = what.results[set].source;
    finding.what =
        "results and an adjustment were made apart, and nobody knows which came first: read again, "
        "or settle the two entries";
    findings.push_back(std::move(finding));
    return;
  }
}

}  // namespace

void tell_years(const std::vector<std::int64_t>& days, std::vector<ProofFinding>& findings) {
  constexpr std::size_t kYear = 4;  // digits in front of a date
  if (days.empty()) return;
  const std::string first = record::print_date(days.front());
  const std::string last = record::print_date(days.back());
  if (first.substr(0, kYear) == last.substr(0, kYear)) return;
  ProofFinding finding;
  finding.code = "years_apart";
  finding.what = "results of different years stand in one run, from " + first + " to " + last +
                 ": leave out what belongs to another test, or mend the date";
  findings.push_back(std::move(finding));
}

void tell_doubts(const Evidence& evidence,
                 const std::vector<JudgedLine>& lines,
                 std::vector<ProofFinding>& findings) {
  tell_order(evidence.what, findings);
  tell_capability(lines, findings);
  tell_nominal(lines, findings);
  tell_eccentricity(evidence, lines, findings);
}

}  // namespace weighwright::proof
