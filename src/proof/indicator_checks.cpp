#include "proof/indicator_checks.h"

#include <algorithm>
#include <cmath>

#include "proof/indications_before_rounding.h"

namespace weighwright::proof {
namespace {

using rules::Check;

constexpr double kSlack = 1e-9;

class IndicatorJudge {
 public:
  IndicatorJudge(const Evidence& evidence, std::vector<ProofFinding>& findings)
      : evidence_(evidence), findings_(findings) {}

  std::vector<JudgedCheck> judge(const std::vector<Row>& rows) {
    for (const Row& row : rows) {
      if (row.fresh && row.usable) judge(row);
    }
    return std::move(judged_);
  }

 private:
  void judge(const Row& row) {
    const record::LoadReading& reading = row.reading->reading;
    switch (row.check) {
      case Check::tare:
        return tare(row);
      case Check::indications:
        if (!row.reading->other_kg)
          return tell_unread(row,
                             "what the other display or the printer "
                             "showed; other_kg");
        return keep(row, std::abs(reading.indication_kg - *row.reading->other_kg), 0.0,
                    rules::indications_limit(evidence_.rulebook, evidence_.scale,
                                             std::abs(reading.indication_kg)));
      case Check::zero_range:
        return keep(row, std::abs(reading.indication_kg), 0.0,
                    rules::zero_range_limit(evidence_.rulebook, evidence_.scale));
      case Check::overload:
        return overload(row);
      default:
        return;
    }
  }

  /// Before rounding, as the setting of zero is.
  void tare(const Row& row) {
    const record::LoadReading& reading = row.reading->reading;
    const double d = division_at_kg(evidence_.deck, 0.0);
    const double shown = std::min(d, reading.resolution_kg.value_or(d));
    const double off = reading.added_kg
                           ? before_rounding_kg(reading.indication_kg, shown, *reading.added_kg)
                           : reading.indication_kg;
    keep(row, std::abs(off), reading.added_kg ? 0.0 : shown / 2.0,
         rules::tare_limit(evidence_.rulebook, evidence_.scale));
  }

  void overload(const Row& row) {
    const record::LoadReading& reading = row.reading->reading;
    if (reading.load_kg.value_or(0.0) > evidence_.scale.capacity_kg * (1.0 + kSlack)) {
      findings_.push_back(finding_at(
          row, "over_capacity", false,
          "the deck was loaded with " + in_kg(*reading.load_kg) +
              ", above Max: a danger to the deck and to people; a set-up value or a signal "
              "simulator answers this check"));
    }
    const auto most = rules::greatest_indication(evidence_.rulebook, evidence_.scale);
    if (!most) return;
    rules::Limit limit;
    limit.kg = most->kg;
    limit.source = most->source;
    keep(row, reading.indication_kg, 0.0, limit);
  }

  void tell_unread(const Row& row, const char* what) {
    findings_.push_back(
        finding_at(row, "check_unread", true, std::string("this check wants ") + what));
  }

  /// @param hidden_kg  what the display may hide either way
  void keep(const Row& row,
            double value_kg,
            double hidden_kg,
            const std::optional<rules::Limit>& limit) {
    if (!limit) return;
    JudgedCheck one;
    one.check = row.check;
    one.load_kg = row.reading->reading.load_kg.value_or(0.0);
    one.value_kg = value_kg;
    one.limit = *limit;
    const double most = limit->kg * (1.0 + kSlack) + kSlack;
    one.rounding_decides = value_kg + hidden_kg > most && value_kg - hidden_kg <= most;
    one.passed = !one.rounding_decides && value_kg <= most;
    one.by = row.reading->by;
    one.file = row.file;
    one.line = row.reading->reading.line;
    judged_.push_back(std::move(one));
  }

  const Evidence& evidence_;
  std::vector<ProofFinding>& findings_;
  std::vector<JudgedCheck> judged_;
};

bool is_undecided(const Verdict& judged, Check check) {
  return std::any_of(judged.checks.begin(), judged.checks.end(),
                     [check](const JudgedCheck& one) { return one.check == check; });
}

}  // namespace

std::vector<JudgedCheck> judge_indicator(const Evidence& evidence,
                                         const std::vector<Row>& rows,
                                         std::vector<ProofFinding>& findings) {
  return IndicatorJudge(evidence, findings).judge(rows);
}

bool is_answered(const Verdict& judged, Check check) {
  return std::any_of(judged.checks.begin(), judged.checks.end(), [check](const JudgedCheck& one) {
    return one.check == check && !one.rounding_decides;
  });
}

std::vector<NotPart> not_part_of(const Evidence& evidence, const Verdict& judged) {
  std::vector<NotPart> list;
  for (const rules::TestRule& test : evidence.rulebook.tests) {
    if (rules::is_of_indicator(test.check)) {
      // One that a rulebook requires is missing, not left out.
      if (test.required || is_answered(judged, test.check)) continue;
      const auto why = is_undecided(judged, test.check) ? NotPart::Why::rounding_decides
                                                        : NotPart::Why::no_result;
      list.push_back({.check = test.check, .why = why, .source = test.source});
    } else if (test.check == Check::discrimination && test.required && judged.steps.empty() &&
               !rules::is_asked(evidence.rulebook, evidence.scale, evidence.what.occasion, test)) {
      list.push_back({.check = test.check,
                      .why = NotPart::Why::not_of_a_digital_display,
                      .source = test.digital_source});
    }
  }
  return list;
}

}  // namespace weighwright::proof
