#include "proof/ranges.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "proof/spread.h"
#include "proof/weighing_range.h"
#include "rules/nominal_load.h"

namespace weighwright::proof {
namespace {

using rules::Check;

constexpr double kSameLoad = 1e-3;  // relative
constexpr double kSlack = 1e-9;
constexpr double kNoise_of_d = 0.3;

double result_kg(const Row& row) {
  return row.load ? row.net_kg() - row.load->kg : row.net_kg();
}

bool belongs(const SameLoad& group, const Row& row) {
  if (group.known != row.load.has_value() || group.rows.front()->range != row.range) return false;
  if (row.load) return std::abs(row.load->kg - group.load_kg) <= kSameLoad * group.load_kg;
  const auto id = [](const Row& one) {
    const record::LoadReading& reading = one.reading->reading;
    return reading.load_id.empty() ? reading.material : reading.load_id;
  };
  return id(*group.rows.front()) == id(row);
}

void add(std::vector<SameLoad>& groups, const Row& row) {
  const auto found = std::find_if(groups.begin(), groups.end(),
                                  [&](const SameLoad& group) { return belongs(group, row); });
  const double result = result_kg(row);
  if (found == groups.end()) {
    groups.push_back({.load_kg = row.load ? row.load->kg : row.net_kg(),
                      .known = row.load.has_value(),
                      .rows = {&row},
                      .least_kg = result,
                      .greatest_kg = result});
    return;
  }
  found->rows.push_back(&row);
  found->least_kg = std::min(found->least_kg, result);
  found->greatest_kg = std::max(found->greatest_kg, result);
}

double step_of(const SameLoad& group) {
  double step = 0.0;
  for (const Row* row : group.rows) step = std::max(step, row->shown.step_kg);
  return step;
}

/// All show the same.
bool is_hidden(const SameLoad& group) {
  return group.range_kg() <= kSlack * step_of(group);
}

/// Sum of squares about the mean; where the display hid any, as much as one step would give.
double squares_of(const SameLoad& group, bool& hidden) {
  const auto count = static_cast<double>(group.rows.size());
  if (is_hidden(group)) {
    hidden = true;
    const double s = step_of(group) / mean_range_factor(static_cast<int>(count));
    return s * s * (count - 1.0);
  }
  double mean = 0.0;
  for (const Row* row : group.rows) mean += result_kg(*row) / count;
  double squares = 0.0;
  for (const Row* row : group.rows) squares += std::pow(result_kg(*row) - mean, 2);
  return squares;
}

Repeats assumed_repeats(const Evidence& evidence, std::vector<ProofFinding>& findings) {
  Repeats repeats;
  const double d = division_at_kg(evidence.deck, evidence.scale.capacity_kg);
  repeats.s_kg = evidence.deck.trimming.repeatability_kg.value_or(kNoise_of_d * d);
  ProofFinding finding;
  finding.code = "repeatability_assumed";
  finding.what = "no load was weighed several times: a repeatability of " + in_kg(repeats.s_kg) +
                 " is assumed";
  findings.push_back(std::move(finding));
  return repeats;
}

/// What the display may hide of the difference of two results.
double hidden_kg(const Evidence& evidence, const SameLoad& group) {
  double hidden = 0.0;
  if (!evidence.rulebook.before_rounding) return hidden;
  for (const Row* row : group.rows) {
    if (!row->shown.before_rounding) hidden = std::max(hidden, row->shown.division_kg);
  }
  return hidden;
}

Repeat repeat_of(const Row& row) {
  const record::LoadReading& reading = row.reading->reading;
  Repeat one;
  one.indication_kg = reading.indication_kg;
  if (row.check != Check::discrimination) one.added_kg = reading.added_kg;
  one.zero_kg = row.zero.kg;
  one.result_kg = row.net_kg();
  one.file = row.file;
  one.line = reading.line;
  return one;
}

/// Where the loads differ a little it is their errors that scatter.
double standard_deviation(const SameLoad& group) {
  std::vector<double> results;
  for (const Row* const row : group.rows) results.push_back(result_kg(*row));
  return spread_of(results).s;
}

JudgedRange judged_range(const Evidence& evidence,
                         const SameLoad& group,
                         Check check,
                         const rules::Limit& limit,
                         std::vector<ProofFinding>& findings) {
  JudgedRange range;
  range.check = check;
  range.load_kg = group.load_kg;
  range.range_kg = group.range_kg();
  range.count = static_cast<int>(group.rows.size());
  range.limit = limit;
  // Loads that are known have lines of their own; of one and the same place alone they repeat.
  const bool repeated = check == Check::repeatability;
  if (repeated || !group.known) {
    for (const Row* const row : group.rows) range.repeats.push_back(repeat_of(*row));
  }
  if (repeated) range.s_kg = standard_deviation(group);
  const double most = limit.kg * (1.0 + kSlack) + kSlack;
  const double hidden = hidden_kg(evidence, group);
  range.rounding_decides = range.range_kg + hidden > most && range.range_kg - hidden <= most;
  if (hidden <= 0.0) range.rounding_decides = false;
  range.passed = !range.rounding_decides && range.range_kg <= most;
  if (range.rounding_decides) {
    ProofFinding finding = finding_at(
        *group.rows.front(), "rounding_decides", true,
        "results of one load differ by " + in_kg(range.range_kg) + " as shown, limit " +
            in_kg(limit.kg) + ": rounding decides; small weights until the display changes over");
    finding.source = evidence.rulebook.rounding;
    findings.push_back(std::move(finding));
  }
  return range;
}

/// Passes of a vehicle of unknown mass have no errors. Where they are required, none may be further
/// from another than an error may be from the load.
std::optional<rules::Limit> limit_of(const Evidence& evidence,
                                     const rules::TestRule& test,
                                     const SameLoad& group) {
  const rules::Scale scale = scale_for(evidence, *group.rows.front());
  const auto judged_as = [&](double load_kg) {
    return rules::judged_as_kg(evidence.rulebook, scale, evidence.what.occasion, load_kg);
  };
  auto stated = rules::range_limit_at(evidence.rulebook, scale, evidence.what.occasion, test.check,
                                      judged_as(group.load_kg));
  if (stated || test.check != Check::rolling || !test.required || group.known) return stated;
  auto limit = rules::limit_at(evidence.rulebook, scale, evidence.what.occasion,
                               judged_as(std::abs(group.load_kg)));
  if (limit) {
    limit->source = {.clause = std::string(rules::kCommonPractice) + ", no source",
                     .basis = rules::Basis::read,
                     .carrier = {},
                     .document = {}};
  }
  return limit;
}

}  // namespace

double mean_range_factor(int count) {
  constexpr std::array<double, 9> kD2 = {1.128, 1.693, 2.059, 2.326, 2.534,
                                         2.704, 2.847, 2.970, 3.078};  // n = 2 to 10
  const int index = std::clamp(count - 2, 0, static_cast<int>(kD2.size()) - 1);
  return kD2[static_cast<std::size_t>(index)];
}

double sure_range_kg(const SameLoad& group) {
  return is_hidden(group) ? step_of(group) : group.range_kg();
}

std::vector<SameLoad> same_loads(const Evidence& evidence, Check check) {
  std::vector<SameLoad> groups;
  for (const Row& row : evidence.rows) {
    if (row.check != check || row.empty_deck || !row.fresh || !row.usable || row.fixes) continue;
    add(groups, row);
  }
  return groups;
}

Repeats repeats_of(const Evidence& evidence, std::vector<ProofFinding>& findings) {
  double squares = 0.0;
  double dof = 0.0;
  bool hidden = false;
  Repeats repeats;
  for (const SameLoad& group : same_loads(evidence, Check::repeatability)) {
    if (group.rows.size() < 2) continue;
    squares += squares_of(group, hidden);
    dof += static_cast<double>(group.rows.size()) - 1.0;
    repeats.range_kg = std::max(repeats.range_kg.value_or(0.0), group.range_kg());
    repeats.sure_range_kg = std::max(repeats.sure_range_kg.value_or(0.0), sure_range_kg(group));
  }
  if (dof <= 0.0) return assumed_repeats(evidence, findings);
  repeats.measured = true;
  repeats.dof = dof;
  repeats.s_kg = std::sqrt(squares / dof);
  if (hidden) {
    ProofFinding finding;
    finding.code = "repeatability_hidden";
    finding.what =
        "repeats that all show the same say no more than that they lie within one division; the "
        "division is taken as their range";
    findings.push_back(std::move(finding));
  }
  return repeats;
}

double eccentric_share_of(const Evidence& evidence) {
  for (const Check check : {Check::eccentric, Check::section, Check::rolling}) {
    double share = 0.0;
    for (const SameLoad& group : same_loads(evidence, check)) {
      if (!group.known || group.rows.size() < 2 || group.load_kg <= 0.0) continue;
      double mean = 0.0;
      for (const Row* row : group.rows) {
        mean += result_kg(*row) / static_cast<double>(group.rows.size());
      }
      const double most = std::max(group.greatest_kg - mean, mean - group.least_kg);
      share = std::max(share, most / (2.0 * std::numbers::sqrt3 * group.load_kg));
    }
    if (share > 0.0) return share;
  }
  return 0.0;
}

std::vector<JudgedRange> judge_ranges(const Evidence& evidence,
                                      std::vector<ProofFinding>& findings) {
  std::vector<JudgedRange> ranges;
  for (const rules::TestRule& test : evidence.rulebook.tests) {
    for (const SameLoad& group : same_loads(evidence, test.check)) {
      if (group.rows.size() < 2) continue;
      const auto limit = limit_of(evidence, test, group);
      if (limit) ranges.push_back(judged_range(evidence, group, test.check, *limit, findings));
    }
  }
  return ranges;
}

}  // namespace weighwright::proof
