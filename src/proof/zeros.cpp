#include "proof/zeros.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>

namespace weighwright::proof {
namespace {

constexpr double kSmallLoad_of_e = 20.0;  // zero may be looked at under so much: 10 e is usual
constexpr double kFarOff_of_e = 1.0;      // a zero that nobody would weigh from (common practice)
constexpr double kSlack = 1e-9;

bool is_multiple(double kg, double step_kg) {
  const double steps = kg / step_kg;
  return std::abs(steps - std::round(steps)) <= 1e-6 * std::max(1.0, std::abs(steps));
}

class ZeroReader {
 public:
  ZeroReader(Evidence& evidence, std::vector<ProofFinding>& findings)
      : evidence_(evidence), findings_(findings) {}

  JudgedZeros read() {
    int set = -1;
    for (std::size_t i = 0; i < evidence_.rows.size(); ++i) {
      Row& row = evidence_.rows[i];
      if (row.set != set) close();
      set = row.set;
      if (row.empty_deck) {
        zero_row(row);
      } else {
        loaded_row(row, static_cast<int>(i));
      }
    }
    close();
    return std::move(result_);
  }

 private:
  void close() {
    if (last_loaded_ >= 0) no_zero_after(last_loaded_);
    zero_.reset();
    loaded_s_.reset();
    range_ = 0;
    greatest_kg_ = 0.0;
    last_loaded_ = -1;
  }

  /// Zero after a load is asked where its return has a limit after any load; else it is told.
  void no_zero_after(int index) {
    const rules::Rulebook& rulebook = evidence_.rulebook;
    if (!(rulebook.zero_return_minutes.value > 0.0) ||
        !rulebook.zero_return_dropped.clause.empty()) {
      result_.no_zero_after.push_back(index);
      return;
    }
    const Row& row = evidence_.rows[static_cast<std::size_t>(index)];
    if (!row.fresh || !evidence_.what.complete) return;
    ProofFinding finding =
        finding_at(row, "zero_after_unread", false,
                   "zero was not read after the last load came off: whether it came back is not "
                   "known");
    finding.source = rulebook.zero_return_minutes.source;
    findings_.push_back(std::move(finding));
  }

  /// When the first load since zero was there, and the greatest range since.
  void note_time(const Row& row) {
    if (greatest_kg_ <= 0.0) loaded_s_ = row.reading->time_s;
    range_ = std::max(range_, row.range);
  }

  void zero_row(const Row& row) {
    const double load = row.reading->reading.load_kg.value_or(0.0);
    if (!row.usable) return;
    if (load > kSmallLoad_of_e * evidence_.scale.interval_kg) {
      findings_.push_back(finding_at(
          row, "zero_under_load", true,
          "zero was looked at under " + in_kg(load) + "; an empty deck, or about 10 divisions"));
      return;
    }
    ZeroOf zero{.kg = row.shown.kg - load,
                .read = true,
                .before_rounding = row.shown.before_rounding,
                .step_kg = row.shown.step_kg};
    tell_if_rounded(row, zero);
    if (!zero_) judge_setting(row, zero);
    judge_return(row, zero, row.reading->time_s);
    zero_ = zero;
  }

  void loaded_row(Row& row, int index) {
    const record::LoadReading& reading = row.reading->reading;
    if (reading.zero_before_kg) {
      const ZeroOf before = typed(row, *reading.zero_before_kg);
      tell_jump(row, before);
      judge_return(row, before, std::nullopt);
      zero_ = before;
    }
    note_time(row);
    if (zero_) {
      row.zero = *zero_;
    } else if (reading.zero_after_kg) {
      row.zero = typed(row, *reading.zero_after_kg);
    }
    tell_off(row);
    greatest_kg_ = std::max(greatest_kg_, row.shown.kg);
    last_loaded_ = index;
    if (reading.zero_after_kg) {
      const ZeroOf after = typed(row, *reading.zero_after_kg);
      judge_return(row, after, row.reading->time_s);
      zero_ = after;
    }
  }

  /// A zero between the display's divisions was found with small weights, as a load may be.
  [[nodiscard]] ZeroOf typed(const Row& row, double kg) const {
    const double d = division_at_kg(evidence_.deck, 0.0);
    const double shown = std::min(d, row.reading->reading.resolution_kg.value_or(d));
    const bool between = !is_multiple(kg, shown);
    const double step = between ? 0.1 * shown : shown;
    const bool fine = step <= 0.2 * evidence_.scale.interval_kg * (1.0 + kSlack);
    return {.kg = kg,
            .read = true,
            .before_rounding = evidence_.rulebook.before_rounding && fine,
            .step_kg = step};
  }

  /// What zero may be off before it is a fault of the reading, not of the weighbridge.
  [[nodiscard]] double far_off_kg(double hidden_kg) const {
    const auto setting =
        rules::zero_setting_limit(evidence_.rulebook, evidence_.scale, evidence_.what.occasion);
    const double e = kFarOff_of_e * evidence_.scale.interval_kg;
    return (std::max(e, setting ? setting->kg : 0.0) + hidden_kg) * (1.0 + kSlack);
  }

  void refuse_zero(Row& row, std::string what) {
    if (!row.usable) return;
    row.usable = false;
    if (!row.fresh) return;
    ProofFinding finding = finding_at(row, "zero_off", true, std::move(what));
    finding.source = evidence_.rulebook.zero_setting_e.source;
    findings_.push_back(std::move(finding));
  }

  /// A zero so far off is not taken off the error in silence.
  void tell_off(Row& row) {
    if (!row.zero.read || std::abs(row.zero.kg) <= far_off_kg(hidden_in(row.zero))) return;
    refuse_zero(row, "this load was weighed from a zero of " + in_kg(row.zero.kg) +
                         "; set zero, then weigh it again, or mend the figure");
  }

  /// No load came off since zero was read: it can't have gone so far by itself.
  void tell_jump(Row& row, const ZeroOf& before) {
    if (greatest_kg_ > 0.0 || !zero_) return;
    if (std::abs(before.kg - zero_->kg) <= far_off_kg(hidden_in(before) + hidden_in(*zero_)))
      return;
    refuse_zero(row, "zero went from " + in_kg(zero_->kg) + " to " + in_kg(before.kg) +
                         " with no load between; set zero, then weigh this load again, or mend "
                         "the figure");
  }

  void tell_if_rounded(const Row& row, const ZeroOf& zero) {
    if (!row.fresh || told_rounded_ || zero.before_rounding || !evidence_.rulebook.before_rounding)
      return;
    told_rounded_ = true;
    ProofFinding finding =
        finding_at(row, "zero_not_read", false,
                   "zero was read as shown: its error may be anything up to half a division; small "
                   "weights on the empty deck, or on about 10 divisions, tell it");
    finding.source = evidence_.rulebook.rounding;
    findings_.push_back(std::move(finding));
  }

  /// @param hidden_kg  what the display may hide of the change
  void judge(const Row& row,
             double change_kg,
             bool after_load,
             double hidden_kg,
             const std::optional<rules::Limit>& limit,
             std::optional<double> minutes = {}) {
    if (!limit || !row.fresh) return;
    JudgedZero zero;
    const double least_min = evidence_.rulebook.zero_return_minutes.value;
    zero.told_only = after_load && least_min > 0.0 && minutes.value_or(0.0) < least_min;
    zero.minutes = minutes;
    zero.after_load = after_load;
    zero.load_kg = after_load ? greatest_kg_ : 0.0;
    zero.change_kg = change_kg;
    zero.limit = *limit;
    const double most = limit->kg * (1.0 + kSlack) + kSlack;
    const double change = std::abs(change_kg);
    // A change that the display does not show is taken as none: zero_not_read has been told. How
    // well zero is set is looked at once, and then as finely as its limit asks.
    const bool may_fail = change + (after_load ? 0.0 : hidden_kg) > most;
    zero.rounding_decides = may_fail && change - hidden_kg <= most;
    zero.passed = !zero.rounding_decides && change <= most;
    zero.file = row.file;
    zero.line = row.reading->reading.line;
    if (zero.told_only) zero.rounding_decides = false;
    if (zero.told_only && change > most) tell_moved(row, zero);
    if (zero.rounding_decides) tell_rounding(row, zero);
    result_.zeros.push_back(std::move(zero));
  }

  void tell_moved(const Row& row, const JudgedZero& zero) {
    ProofFinding finding = finding_at(
        row, "zero_moved", false,
        "zero went by " + in_kg(zero.change_kg) + " when the load came off; the limit of " +
            in_kg(zero.limit.kg) + " is for " +
            std::to_string(std::lround(evidence_.rulebook.zero_return_minutes.value)) +
            " minutes under load (give times to have it judged), so this is told only");
    finding.source = evidence_.rulebook.zero_return_minutes.source;
    findings_.push_back(std::move(finding));
  }

  void tell_rounding(const Row& row, const JudgedZero& zero) {
    ProofFinding finding = finding_at(
        row, "rounding_decides", true,
        "zero is off by " + in_kg(zero.change_kg) + " as shown, limit " + in_kg(zero.limit.kg) +
            ": rounding decides; small weights until the display changes over");
    finding.source = evidence_.rulebook.rounding;
    findings_.push_back(std::move(finding));
  }

  [[nodiscard]] double hidden_in(const ZeroOf& zero) const {
    const bool hides = evidence_.rulebook.before_rounding && !zero.before_rounding;
    return hides ? zero.step_kg / 2.0 : 0.0;
  }

  void judge_setting(const Row& row, const ZeroOf& zero) {
    if (greatest_kg_ > 0.0) return;
    judge(row, zero.kg, false, hidden_in(zero),
          rules::zero_setting_limit(evidence_.rulebook, evidence_.scale, evidence_.what.occasion));
  }

  /// Before zero is pressed: the deck was just unloaded.
  /// @param time_s  when zero was read, as far as the results say
  void judge_return(const Row& row,
                    const ZeroOf& after,
                    const std::optional<std::int64_t>& time_s) {
    if (greatest_kg_ > 0.0 && zero_) {
      const rules::Scale scale = rules::in_range(evidence_.scale, range_);
      judge(row, after.kg - zero_->kg, true, hidden_in(after) + hidden_in(*zero_),
            rules::zero_return_limit(evidence_.rulebook, scale, evidence_.what.occasion),
            minutes_to(time_s));
    }
    loaded_s_.reset();
    range_ = 0;
    greatest_kg_ = 0.0;
    last_loaded_ = -1;
  }

  /// Under load until then; empty: not both times are known.
  [[nodiscard]] std::optional<double> minutes_to(const std::optional<std::int64_t>& time_s) const {
    constexpr double kSeconds = 60.0;
    if (!time_s || !loaded_s_) return std::nullopt;
    return static_cast<double>(*time_s - *loaded_s_) / kSeconds;
  }

  Evidence& evidence_;
  std::vector<ProofFinding>& findings_;
  JudgedZeros result_;
  std::optional<ZeroOf> zero_;
  double greatest_kg_ = 0.0;              // on the deck since zero was read
  std::optional<std::int64_t> loaded_s_;  // when the first load since then was there
  int range_ = 0;                         // the greatest in use since then
  int last_loaded_ = -1;
  bool told_rounded_ = false;
};

}  // namespace

JudgedZeros read_zeros(Evidence& evidence, std::vector<ProofFinding>& findings) {
  return ZeroReader(evidence, findings).read();
}

}  // namespace weighwright::proof
