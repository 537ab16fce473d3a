// Whether class, interval, ranges, capacity and CLC of a scale go together.
#include <algorithm>
#include <cmath>

#include "rules/bands.h"
#include "rules/limits.h"
#include "rules/words.h"
#include "units/quantity.h"

namespace weighwright::rules {

namespace {

/// Whether a number is 1, 2 or 5 times a power of ten.
bool is_round(double value) {
  constexpr double kSame = 1e-9;
  const double mantissa = value / std::pow(10.0, std::floor(std::log10(value) + kSame));
  for (const double wanted : {1.0, 2.0, 5.0}) {
    if (std::abs(mantissa - wanted) < kSame * wanted) return true;
  }
  return false;
}

struct Range {
  double capacity_kg = 0.0;
  double interval_kg = 0.0;
};

class Judge {
 public:
  Judge(const Rulebook& rulebook, const Scale& scale) : rulebook_(rulebook), scale_(scale) {
    for (const auto& [capacity_kg, interval_kg] : scale.ranges)
      ranges_.push_back({capacity_kg, interval_kg});
    if (ranges_.empty()) ranges_.push_back({scale.capacity_kg, scale.interval_kg});
  }

  std::vector<ClassFault> faults() {
    const ClassRule* const rule = rulebook_.find_class(scale_.accuracy_class);
    if (rule == nullptr) {
      unknown_class();
      return faults_;
    }
    if (!has_sizes()) return faults_;
    judge_ranges(*rule);
    for (const Range& range : ranges_) judge_range(*rule, range);
    judge_display(*rule);
    judge_clc();
    return faults_;
  }

 private:
  void fault(std::string code, std::string what, std::string expected, const Source& source) {
    faults_.push_back({.code = std::move(code),
                       .what = std::move(what),
                       .expected = std::move(expected),
                       .breaks = true,
                       .source = source});
  }
  void unjudged(std::string code, std::string what, std::string expected, const Source& source) {
    fault(std::move(code), std::move(what), std::move(expected), source);
    faults_.back().breaks = false;
  }

  [[nodiscard]] std::string mass(double kg) const { return mass_words(kg, scale_.us); }

  void unknown_class() {
    std::string names;
    for (const ClassRule& rule : rulebook_.classes)
      names += (names.empty() ? "" : ", ") + rule.name;
    const Source source = rulebook_.classes.empty() ? Source{} : rulebook_.classes.front().limits;
    fault("unknown_class",
          rulebook_.title + " has no limits for class " + units_quote(scale_.accuracy_class),
          "one of: " + names, source);
  }
  static std::string units_quote(const std::string& text) { return "\"" + text + "\""; }

  bool has_sizes() {
    for (const Range& range : ranges_) {
      if (counts_of(range.capacity_kg) > 0 && counts_of(range.interval_kg) > 0) continue;
      fault("no_size", "capacity and interval have to be more than 0", "those of the data plate",
            {});
      return false;
    }
    return true;
  }

  void judge_ranges(const ClassRule& rule) {
    for (std::size_t i = 1; i < ranges_.size(); ++i) {
      const Range& low = ranges_[i - 1];
      const Range& high = ranges_[i];
      if (counts_of(high.capacity_kg) <= counts_of(low.capacity_kg) ||
          counts_of(high.interval_kg) <= counts_of(low.interval_kg)) {
        fault("ranges_not_rising",
              "range " + std::to_string(i + 1) +
                  " has no greater capacity and interval than the "
                  "range before it",
              "ranges with rising capacity and interval", rule.ranges);
        continue;
      }
      judge_least_range(rule, i, low, high);
    }
    if (counts_of(ranges_.back().capacity_kg) == counts_of(scale_.capacity_kg)) return;
    fault("ranges_short_of_capacity",
          "the last range ends at " + mass(ranges_.back().capacity_kg) + ", Max is " +
              mass(scale_.capacity_kg),
          "a last range up to Max", rule.ranges);
  }

  void judge_least_range(const ClassRule& rule,
                         std::size_t i,
                         const Range& low,
                         const Range& high) {
    // Of partial ranges of one weighing range only; several ranges each begin at zero (T.3.2.7).
    if (scale_.multiple_range) return;
    const Counts wanted = counts_of(rule.least_range_n * high.interval_kg);
    if (counts_of(low.capacity_kg) >= wanted) return;
    fault("range_too_short",
          "range " + std::to_string(i) + " ends at " + mass(low.capacity_kg) + ", that is " +
              number_words(low.capacity_kg / high.interval_kg) + " intervals of the next range",
          "at least " + number_words(rule.least_range_n) + ": " + mass(kg_of(wanted)) + " or more",
          rule.ranges);
  }

  void judge_range(const ClassRule& rule, const Range& range) {
    // A deck may be drawn in feet and weigh in kilograms: round in either unit will do.
    const bool round =
        is_round(range.interval_kg) || is_round(range.interval_kg / units::kPound_kg);
    if (!rulebook_.interval_series.clause.empty() && !round) {
      fault("interval_not_round",
            "the interval " + mass(range.interval_kg) + " is not 1, 2 or 5 times a power of ten",
            "an interval such as " + mass(round_near(range.interval_kg)),
            rulebook_.interval_series);
    }
    const IntervalBand* const band = band_of(rule, range.interval_kg, scale_.us);
    if (band == nullptr) {
      interval_outside(rule, range);
      return;
    }
    judge_count(*band, range);
  }

  /// The round interval that is not less.
  [[nodiscard]] double round_near(double interval_kg) const {
    const double unit_kg = scale_.us ? units::kPound_kg : 1.0;
    const double value = interval_kg / unit_kg;
    const double power = std::pow(10.0, std::floor(std::log10(value)));
    for (const double factor : {1.0, 2.0, 5.0}) {
      if (factor * power >= value) return factor * power * unit_kg;
    }
    return 10.0 * power * unit_kg;
  }

  void interval_outside(const ClassRule& rule, const Range& range) {
    if (rule.bands.empty()) return;
    double least_kg = kNoEnd;
    for (const IntervalBand& band : rule.bands)
      least_kg = std::min(least_kg, least_e_kg(band, scale_.us));
    const bool small = counts_of(range.interval_kg) < counts_of(least_kg);
    fault(small ? "interval_too_small" : "interval_not_of_class",
          "class " + rule.name + " has no interval of " + mass(range.interval_kg),
          small ? mass(least_kg) + " or more" : bands_words(rule), rule.bands.front().source);
  }

  [[nodiscard]] std::string bands_words(const ClassRule& rule) const {
    std::string words;
    for (const IntervalBand& band : rule.bands) {
      const double most_kg = most_e_kg(band, scale_.us);
      words += (words.empty() ? "" : ", or ") + mass(least_e_kg(band, scale_.us)) +
               (most_kg == kNoEnd ? " or more" : " to " + mass(most_kg));
    }
    return words;
  }

  void judge_count(const IntervalBand& band, const Range& range) {
    const Counts capacity = counts_of(range.capacity_kg);
    const std::string found = mass(range.capacity_kg) + " by " + mass(range.interval_kg) + " are " +
                              number_words(range.capacity_kg / range.interval_kg) +
                              " intervals, class " + scale_.accuracy_class + " has ";
    if (band.n_max != kNoEnd && capacity > counts_of(band.n_max * range.interval_kg)) {
      fault("too_many_intervals", found + "at most " + number_words(band.n_max),
            "an interval of " + mass(round_near(range.capacity_kg / band.n_max)) + " or more",
            band.source);
    }
    if (capacity < counts_of(band.n_min * range.interval_kg)) {
      fault("too_few_intervals", found + "at least " + number_words(band.n_min),
            "an interval of " + mass(range.capacity_kg / band.n_min) + " or less", band.source);
    }
  }

  /// d = e but for an extended display, which shows finer (R 76-1, 3.1.2, T.2.6).
  void judge_display(const ClassRule& rule) {
    if (!scale_.display_interval_kg) return;
    if (counts_of(*scale_.display_interval_kg) <= counts_of(ranges_.front().interval_kg)) return;
    fault("display_above_interval",
          "the display counts by " + mass(*scale_.display_interval_kg) + ", the interval e is " +
              mass(ranges_.front().interval_kg),
          "a display that counts by e or finer", rule.limits);
  }

  void judge_clc() {
    const Cited& less = rulebook_.clc_sections_less;
    if (!(less.value > 0.0)) return;
    if (!scale_.clc_kg) {
      unjudged(
          "clc_missing", "the concentrated load capacity (CLC) is not stated",
          "the CLC of the data plate: without it neither Max nor the section test can be judged",
          less.source);
      return;
    }
    if (scale_.sections < 1) {
      unjudged("sections_missing", "the number of sections is not known",
               "the number of sections: Max is judged by it and the CLC", less.source);
      return;
    }
    const double most_kg = *scale_.clc_kg * (scale_.sections - less.value);
    if (counts_of(scale_.capacity_kg) <= counts_of(most_kg)) return;
    fault("capacity_above_clc",
          "Max " + mass(scale_.capacity_kg) + " is more than CLC times (sections - " +
              number_words(less.value) + ")",
          "at most " + mass(*scale_.clc_kg) + " x (" + std::to_string(scale_.sections) + " - " +
              number_words(less.value) + ") = " + mass(most_kg),
          less.source);
  }

  const Rulebook& rulebook_;
  const Scale& scale_;
  std::vector<Range> ranges_;
  std::vector<ClassFault> faults_;
};

}  // namespace

std::vector<ClassFault> class_faults(const Rulebook& rulebook, const Scale& scale) {
  return Judge(rulebook, scale).faults();
}

}  // namespace weighwright::rules
