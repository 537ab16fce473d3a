#include "proof/weighing_range.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace weighwright::proof {
namespace {

constexpr double kJustAbove_of_e = 0.5;

class RangeFinder {
 public:
  RangeFinder(Evidence& evidence, std::vector<ProofFinding>& findings)
      : evidence_(evidence), findings_(findings), count_(rules::range_count(evidence.scale)) {}

  void run() {
    for (Row& row : evidence_.rows) {
      if (row.set != set_) in_use_ = 0;
      set_ = row.set;
      if (row.empty_deck || row.reading->reading.zero_before_kg) in_use_ = 0;
      find(row);
      if (row.reading->reading.zero_after_kg) in_use_ = 0;
    }
  }

 private:
  void find(Row& row) {
    if (row.reading->range) {
      if (!is_one(row)) return;
      row.range = *row.reading->range - 1;
    } else {
      row.range = row.empty_deck ? in_use_ : std::max(in_use_, smallest_for(row));
    }
    in_use_ = row.range;
  }

  /// Told where the scale has no such range, or none that reaches so far.
  bool is_one(Row& row) {
    const int range = *row.reading->range;
    if (range < 1 || range > count_) {
      refuse(row, "range " + std::to_string(range) + " is none of this scale; " +
                      (count_ == 1 ? std::string("it has one, leave range blank")
                                   : "1 to " + std::to_string(count_)));
      return false;
    }
    const rules::Scale one = rules::in_range(evidence_.scale, range - 1);
    if (count_ == 1 || on_deck_kg(row) <= one.capacity_kg + kJustAbove_of_e * one.interval_kg)
      return true;
    refuse(row, in_kg(on_deck_kg(row)) + " can't have been read in range " + std::to_string(range) +
                    ", which ends at " + in_kg(one.capacity_kg) +
                    "; the range that the display showed");
    return false;
  }

  void refuse(Row& row, std::string what) {
    row.usable = false;
    findings_.push_back(finding_at(row, "no_such_range", true, std::move(what)));
  }

  static double on_deck_kg(const Row& row) {
    const record::LoadReading& reading = row.reading->reading;
    const bool known = reading.load_kg && reading.material.empty() && !row.reading->start_kg;
    return known ? *reading.load_kg : std::abs(reading.indication_kg);
  }

  [[nodiscard]] int smallest_for(const Row& row) const {
    const double load_kg = on_deck_kg(row);
    for (int i = 0; i + 1 < count_; ++i) {
      const rules::Scale one = rules::in_range(evidence_.scale, i);
      if (load_kg <= one.capacity_kg + kJustAbove_of_e * one.interval_kg) return i;
    }
    return count_ - 1;
  }

  Evidence& evidence_;
  std::vector<ProofFinding>& findings_;
  int count_;
  int set_ = -1;
  int in_use_ = 0;
};

}  // namespace

void find_ranges(Evidence& evidence, std::vector<ProofFinding>& findings) {
  RangeFinder(evidence, findings).run();
}

rules::Scale scale_for(const Evidence& evidence, const Row& row) {
  return rules::in_range(evidence.scale, row.range);
}

double division_of(const Evidence& evidence, const Row& row, double load_kg) {
  if (rules::range_count(evidence.scale) == 1) return division_at_kg(evidence.deck, load_kg);
  return evidence.deck.display_interval_kg.value_or(scale_for(evidence, row).interval_kg);
}

}  // namespace weighwright::proof
