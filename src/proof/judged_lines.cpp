#include "proof/judged_lines.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "proof/line_budget.h"
#include "proof/substitute_strain.h"
#include "proof/weighing_range.h"

namespace weighwright::proof {
namespace {

using rules::Check;

constexpr double kSlack = 1e-9;

const rules::TestRule* test_of(const Evidence& evidence, Check check) {
  return evidence.rulebook.find_test(check);
}

class LineJudge {
 public:
  LineJudge(const Evidence& evidence, std::vector<ProofFinding>& findings)
      : evidence_(evidence), findings_(findings) {}

  JudgedLines judge() {
    for (std::size_t i = 0; i < evidence_.rows.size(); ++i) {
      const Row& row = evidence_.rows[i];
      if (row.empty_deck || row.fixes) continue;
      if (row.check == Check::discrimination) {
        if (row.fresh && row.usable) step(row);
      } else {
        line_of(row, static_cast<int>(i));
      }
    }
    return std::move(result_);
  }

 private:
  static JudgedLine copied(const Row& row) {
    const record::LoadReading& reading = row.reading->reading;
    JudgedLine line;
    line.check = row.check;
    line.run = row.reading->run;
    line.place = reading.place;
    line.heading = row.reading->heading;
    line.material = reading.material;
    line.indication_kg = reading.indication_kg;
    line.rounded_off_kg = row.shown.rounded_off_kg;
    line.before_rounding = row.shown.before_rounding;
    line.zero_kg = row.zero.kg;
    line.zero_read = row.zero.read;
    line.range = row.range;
    line.file = row.file;
    line.line = reading.line;
    return line;
  }

  void line_of(const Row& row, int index) {
    // A load of unknown mass may be weighed several times; it has a range and no error.
    if (!row.load && row.usable) return;
    JudgedLine line = copied(row);
    if (const rules::TestRule* const test = test_of(evidence_, row.check)) {
      line.source = test->source;
    }
    line.judged = row.fresh && row.usable && row.load.has_value();
    if (row.load) fill(row, line);
    if (line.judged) decide_line(row, line);
    result_.lines.push_back(std::move(line));
    result_.row_of_line.push_back(index);
  }

  /// Load, error and where they count from.
  void fill(const Row& row, JudgedLine& line) {
    line.load_kg = row.load->kg;
    line.standards_kg = row.load->standards_kg;
    line.substitutions = static_cast<int>(row.load->sorts.size());
    line.error_kg = row.net_kg() - row.load->kg;
    if (row.check == Check::strain) {
      line.by_strain = true;
      line.zero_kg = 0.0;
      line.zero_read = false;
      if (row.reading->start_kg) {
        line.error_kg = row.shown.kg - *row.reading->start_kg - row.load->kg;
      } else if (line.judged) {
        line.judged = false;
        findings_.push_back(
            finding_at(row, "strain_start", true,
                       "a strain test with no reading before the known load came on; start_kg"));
      }
    } else if (has_too_many_substitutes(evidence_, row)) {
      strain_by_substitutes(row, line);
    }
  }

  /// Beyond so many substitutes the error is that of the weights on top of them alone.
  void strain_by_substitutes(const Row& row, JudgedLine& line) {
    const Row* const start = strain_start(evidence_, row);
    ProofFinding finding =
        finding_at(row, "substitution_many", start == nullptr,
                   "more substitutes than the rulebook allows: judged as a strain test, by the "
                   "known load alone");
    finding.source = evidence_.rulebook.most_substitutions.source;
    findings_.push_back(std::move(finding));
    line.by_strain = true;
    if (start == nullptr) {
      line.judged = false;
      return;
    }
    line.load_kg = row.load->direct_kg;
    line.standards_kg = row.own->standards_kg;
    line.error_kg = row.net_kg() - start->net_kg() - row.load->direct_kg;
  }

  void decide_line(const Row& row, JudgedLine& line) {
    line.limit = rules::limit_at(evidence_.rulebook, scale_for(evidence_, row),
                                 evidence_.what.occasion, line.load_kg);
    line.budget = combine(terms_of(evidence_, row), evidence_.what.coverage);
    const rules::TestRule* const test = test_of(evidence_, row.check);
    if (!line.limit) {
      line.judged = false;
      findings_.push_back(finding_at(row, "no_limit", true,
                                     "the rulebook has no limit of error for " +
                                         in_kg(line.load_kg) + " on a scale of this class"));
      return;
    }
    line.decision = decide(line.error_kg, line.limit->kg, line.budget->u_kg, line.budget->U_kg,
                           evidence_.what.rule, evidence_.what.guard, line.budget->dof);
    line.passed = line.decision->accepted || (test != nullptr && !test->each_within);
    if (evidence_.rulebook.before_rounding && !line.before_rounding) check_rounding(row, line);
  }

  /// As shown, the error before rounding lies within half a division of it.
  void check_rounding(const Row& row, JudgedLine& line) {
    const double half = row.shown.division_kg / 2.0;
    const double error = std::abs(line.error_kg);
    const double limit = line.limit->kg * (1.0 + kSlack);
    if (error + half <= limit || error - half > limit) return;
    line.rounding_decides = true;
    line.judged = false;
    line.passed = false;
    ProofFinding finding = finding_at(
        row, "rounding_decides", true,
        "an error of " + in_kg(line.error_kg) + " as shown, limit " + in_kg(line.limit->kg) +
            ": rounding decides; small weights until the display changes over");
    finding.source = evidence_.rulebook.rounding;
    findings_.push_back(std::move(finding));
  }

  void step(const Row& row) {
    const record::LoadReading& reading = row.reading->reading;
    const double d = row.shown.division_kg;
    const double most = evidence_.rulebook.discrimination_added_d.value * d;
    if (!reading.added_kg || !row.reading->then_kg || *reading.added_kg <= 0.0 ||
        *reading.added_kg > most * (1.0 + kSlack)) {
      findings_.push_back(finding_at(
          row, reading.added_kg && row.reading->then_kg ? "added_out_of_range" : "step_unread",
          true,
          "discrimination wants a small load of " + in_kg(most) +
              " and what was indicated with it; added_kg, then_kg"));
      return;
    }
    JudgedStep judged;
    judged.load_kg = row.load ? row.load->kg : row.net_kg();
    judged.added_kg = *reading.added_kg;
    judged.change_kg = *row.reading->then_kg - reading.indication_kg;
    judged.wanted_kg = evidence_.rulebook.discrimination_change_d.value * d;
    judged.passed = judged.change_kg >= judged.wanted_kg * (1.0 - kSlack);
    judged.source = evidence_.rulebook.discrimination_change_d.source;
    judged.file = row.file;
    judged.line = reading.line;
    result_.steps.push_back(std::move(judged));
  }

  const Evidence& evidence_;
  std::vector<ProofFinding>& findings_;
  JudgedLines result_;
};

}  // namespace

JudgedLines judge_lines(const Evidence& evidence, std::vector<ProofFinding>& findings) {
  return LineJudge(evidence, findings).judge();
}

bool counts_as_made(const JudgedLine& line) {
  return line.judged || line.rounding_decides;
}

int lean_of(const rules::Rulebook& rulebook, const std::vector<JudgedLine>& lines) {
  const double share = rulebook.lean_share.value;
  if (share <= 0.0) return 0;
  int sign = 0;
  int count = 0;
  bool beyond = false;
  for (const JudgedLine& line : lines) {
    if (!counts_as_made(line) || !line.limit) continue;
    const int own = line.error_kg > 0.0 ? 1 : line.error_kg < 0.0 ? -1 : 0;
    if (own == 0 || (sign != 0 && own != sign)) return 0;
    sign = own;
    ++count;
    beyond |= std::abs(line.error_kg) > share * line.limit->kg;
  }
  return beyond && count > 1 ? sign : 0;
}

std::optional<NetError> net_error_of(const Evidence& evidence,
                                     const std::vector<JudgedLine>& lines) {
  std::optional<NetError> worst;
  double worst_share = -1.0;
  for (const JudgedLine& full : lines) {
    for (const JudgedLine& empty : lines) {
      const bool whole = full.check == Check::increasing && empty.check == Check::increasing;
      if (!whole || !counts_as_made(full) || !counts_as_made(empty)) continue;
      if (full.by_strain || empty.by_strain || full.load_kg <= empty.load_kg) continue;
      const double net = full.load_kg - empty.load_kg;
      const auto limit =
          rules::limit_at(evidence.rulebook, rules::in_range(evidence.scale, full.range),
                          evidence.what.occasion, net);
      if (!limit || limit->kg <= 0.0) continue;
      const double error = full.error_kg - empty.error_kg;
      const double share = std::abs(error) / limit->kg;
      if (share <= worst_share) continue;
      worst_share = share;
      worst = NetError{.full_kg = full.load_kg,
                       .empty_kg = empty.load_kg,
                       .error_kg = error,
                       .limit = *limit,
                       .within = share <= 1.0 + kSlack};
    }
  }
  return worst;
}

}  // namespace weighwright::proof
