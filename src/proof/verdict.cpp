#include "proof/verdict.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "proof/doubts.h"
#include "proof/evidence.h"
#include "proof/indications_before_rounding.h"
#include "proof/indicator_checks.h"
#include "proof/judged_lines.h"
#include "proof/line_budget.h"
#include "proof/missing.h"
#include "proof/ranges.h"
#include "proof/result_checks.h"
#include "proof/result_rows.h"
#include "proof/scale_of.h"
#include "proof/signs.h"
#include "proof/substitution.h"
#include "proof/verdict_sample.h"
#include "proof/weighing_range.h"
#include "proof/zeros.h"

namespace weighwright::proof {
namespace {

class Prover {
 public:
  Prover(const deck::Deck& deck, const rules::Rulebook& rulebook, const ProofCase& what)
      : evidence_{.deck = deck,
                  .rulebook = rulebook,
                  .what = what,
                  .scale = scale_of(deck),
                  .rows = {},
                  .repeats = {},
                  .eccentric_share = 0.0,
                  .substitutes = {}} {}

  Verdict prove() {
    const bool no_such_scale = check_scale(evidence_, verdict_.findings);
    gather();
    judge();
    if (evidence_.what.complete) {
      verdict_.missing = missing_of(evidence_, verdict_, no_zero_after_);
      verdict_.not_part = not_part_of(evidence_, verdict_);
      tell_few_repeats();
    }
    tell_of_all();
    if (evidence_.what.sample) sample();
    verdict_.outcome = no_such_scale || rests_on_stale() ? Outcome::refused : outcome();
    return std::move(verdict_);
  }

 private:
  void gather() {
    std::vector<ProofFinding>& findings = verdict_.findings;
    evidence_.rows = result_rows(evidence_.what, findings);
    set_indicator_apart();
    find_ranges(evidence_, findings);
    read_indications(evidence_, findings);
    JudgedZeros zeros = read_zeros(evidence_, findings);
    verdict_.zeros = std::move(zeros.zeros);
    no_zero_after_ = std::move(zeros.no_zero_after);
    weigh_loads(evidence_, findings);
    check_loads(evidence_, findings);
    check_order(evidence_, findings);
    evidence_.repeats = repeats_of(evidence_, findings);
    evidence_.eccentric_share = eccentric_share_of(evidence_);
  }

  /// They have no load that anything else could be judged by.
  void set_indicator_apart() {
    std::vector<Row>& rows = evidence_.rows;
    const auto first = std::stable_partition(rows.begin(), rows.end(), [](const Row& row) {
      return !rules::is_of_indicator(row.check);
    });
    indicator_.assign(first, rows.end());
    rows.erase(first, rows.end());
  }

  void judge() {
    verdict_.checks = judge_indicator(evidence_, indicator_, verdict_.findings);
    JudgedLines judged = judge_lines(evidence_, verdict_.findings);
    verdict_.lines = std::move(judged.lines);
    row_of_line_ = std::move(judged.row_of_line);
    verdict_.steps = std::move(judged.steps);
    verdict_.ranges = judge_ranges(evidence_, verdict_.findings);
    verdict_.repeatability_kg = evidence_.repeats.range_kg;
    if (evidence_.repeats.measured) verdict_.s_kg = evidence_.repeats.s_kg;
    verdict_.substitutes = evidence_.substitutes;
    weigh_substitutes();
  }

  /// Their doubt is known only now that repeatability is. One row gives one worth.
  void weigh_substitutes() {
    std::size_t next = 0;
    for (const Row& row : evidence_.rows) {
      if (!row.fixes || !row.load || next >= verdict_.substitutes.size()) continue;
      verdict_.substitutes[next].u_kg = u_substitution_kg(evidence_, *row.load);
      ++next;
    }
  }

  void tell_few_repeats() {
    for (const Missing& missing : verdict_.missing) {
      if (missing.check != rules::Check::repeatability || missing.code != "repeats") continue;
      ProofFinding finding;
      finding.code = "not_enough_repeats";
      finding.what =
          "fewer weighings of one load than the rulebook asks, near " + in_kg(missing.load_kg);
      finding.source = missing.source;
      verdict_.findings.push_back(std::move(finding));
    }
  }

  /// What is said of all lines together.
  void tell_of_all() {
    verdict_.leans = lean_of(evidence_.rulebook, verdict_.lines);
    if (verdict_.leans != 0) {
      ProofFinding finding;
      finding.code = "lean";
      finding.what = verdict_.leans > 0 ? "all errors are above zero; set the span towards zero"
                                        : "all errors are below zero; set the span towards zero";
      finding.source = evidence_.rulebook.lean_share.source;
      verdict_.findings.push_back(std::move(finding));
    }
    tell_signs(evidence_, verdict_.lines, verdict_.findings);
    tell_doubts(evidence_, verdict_.lines, verdict_.findings);
    verdict_.net = net_error_of(evidence_, verdict_.lines);
    if (verdict_.net && !verdict_.net->within) tell_net(*verdict_.net);
    verdict_.p_all = 1.0;
    bool any = false;
    for (const JudgedLine& line : verdict_.lines) {
      if (!line.judged || !line.decision) continue;
      verdict_.p_all *= line.decision->p_conforming;
      any = true;
    }
    if (!any) verdict_.p_all = 0.0;
  }

  void tell_net(const NetError& net) {
    ProofFinding finding;
    finding.code = "net_error";
    finding.what = "between " + in_kg(net.empty_kg) + " and " + in_kg(net.full_kg) +
                   " a net load is shown wrong by " + in_kg(net.error_kg) + "; its limit is " +
                   in_kg(net.limit.kg);
    finding.source = net.limit.source;
    verdict_.findings.push_back(std::move(finding));
  }

  /// The line that is nearest its limit, in standard uncertainties.
  void sample() {
    double least = 0.0;
    for (std::size_t i = 0; i < verdict_.lines.size(); ++i) {
      const JudgedLine& line = verdict_.lines[i];
      if (!line.judged || !line.limit || !line.budget || !(line.budget->u_kg > 0.0)) continue;
      const double near = (line.limit->kg - std::abs(line.error_kg)) / line.budget->u_kg;
      if (verdict_.sampled_line >= 0 && near >= least) continue;
      least = near;
      verdict_.sampled_line = static_cast<int>(i);
    }
    if (verdict_.sampled_line < 0) return;
    const auto index = static_cast<std::size_t>(verdict_.sampled_line);
    const Row& row = evidence_.rows[static_cast<std::size_t>(row_of_line_[index])];
    const auto sampled = sample_line(evidence_, row, verdict_.lines[index]);
    if (!sampled) return;
    verdict_.sampled = sampled->sampled;
    verdict_.validation = sampled->validation;
  }

  [[nodiscard]] bool is_stale(rules::Check check) const {
    return std::any_of(evidence_.rows.begin(), evidence_.rows.end(),
                       [check](const Row& row) { return !row.fresh && row.check == check; });
  }

  /// Was what is missing made before the last span or trim?
  [[nodiscard]] bool was_made_before(const Missing& missing) const {
    const bool results =
        missing.code != "weights" && missing.code != "standards" && missing.code != "zero_after";
    if (!results) return false;
    if (is_stale(missing.check)) return true;
    const auto& tests = evidence_.rulebook.tests;
    return std::any_of(tests.begin(), tests.end(), [&](const rules::TestRule& test) {
      return test.instead_of == rules::code_of(missing.check) && is_stale(test.check);
    });
  }

  /// Nothing is fresh, or a test that is wanted was made before the last span or trim only.
  [[nodiscard]] bool rests_on_stale() const {
    const auto fresh = [](const Row& row) { return row.fresh; };
    const bool any = !evidence_.rows.empty();
    if (any && std::none_of(evidence_.rows.begin(), evidence_.rows.end(), fresh)) return true;
    return std::any_of(verdict_.missing.begin(), verdict_.missing.end(),
                       [this](const Missing& missing) { return was_made_before(missing); });
  }

  [[nodiscard]] bool any_failed() const {
    const auto failed = [](const auto& list) {
      return std::any_of(list.begin(), list.end(),
                         [](const auto& one) { return !one.passed && !one.rounding_decides; });
    };
    const bool line = std::any_of(verdict_.lines.begin(), verdict_.lines.end(),
                                  [](const JudgedLine& one) { return one.judged && !one.passed; });
    const bool zero =
        std::any_of(verdict_.zeros.begin(), verdict_.zeros.end(), [](const JudgedZero& one) {
          return !one.passed && !one.rounding_decides && !one.told_only;
        });
    const bool step = std::any_of(verdict_.steps.begin(), verdict_.steps.end(),
                                  [](const JudgedStep& one) { return !one.passed; });
    return line || step || zero || failed(verdict_.ranges) || failed(verdict_.checks);
  }

  [[nodiscard]] Outcome outcome() const {
    if (any_failed()) return Outcome::fail;
    const bool judged = std::any_of(verdict_.lines.begin(), verdict_.lines.end(),
                                    [](const JudgedLine& line) { return line.judged; });
    const bool blocked = std::any_of(verdict_.findings.begin(), verdict_.findings.end(),
                                     [](const ProofFinding& finding) { return finding.blocks; });
    if (!judged || blocked || !verdict_.missing.empty()) return Outcome::incomplete;
    return Outcome::pass;
  }

  Evidence evidence_;
  std::vector<Row> indicator_;  // rows of the indicator's own checks
  Verdict verdict_;
  std::vector<int> no_zero_after_;
  std::vector<int> row_of_line_;
};

}  // namespace

Verdict prove(const deck::Deck& deck, const rules::Rulebook& rulebook, const ProofCase& what) {
  return Prover(deck, rulebook, what).prove();
}

}  // namespace weighwright::proof
