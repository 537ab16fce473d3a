#include "proof/result_checks.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <set>

#include "proof/substitute_strain.h"
#include "proof/weighing_range.h"
#include "rules/nominal_load.h"
#include "units/place.h"

namespace weighwright::proof {
namespace {

using record::LoadPlace;
using rules::Check;

constexpr double kSlack = 1e-9;

/// What stands on the deck in all: of a strain test with what was there before.
double on_deck_kg(const Row& row) {
  const double known = row.load ? row.load->kg : 0.0;
  return row.check == Check::strain ? known + row.reading->start_kg.value_or(0.0) : known;
}

class LoadChecker {
 public:
  LoadChecker(Evidence& evidence, std::vector<ProofFinding>& findings)
      : evidence_(evidence), findings_(findings) {}

  void check() {
    for (Row& row : evidence_.rows) {
      if (row.empty_deck || !row.fresh) continue;
      check_rolling(row);
      if (!row.load) continue;
      check_capacity(row);
      check_pattern(row);
      check_cells(row);
      check_standards(row);
    }
    if (coarse_ != nullptr) tell_coarse();
  }

 private:
  void check_capacity(Row& row) {
    const double load = on_deck_kg(row);
    const double most = evidence_.scale.capacity_kg;
    if (is_at_most(evidence_, load, most)) return;
    row.usable = false;
    findings_.push_back(finding_at(row, "over_capacity", true,
                                   "a load of " + in_kg(load) + " is above Max, " + in_kg(most) +
                                       "; a load that the weighbridge is made for"));
  }

  /// A load of a place, of weights by their nominal values: what they are certified above them, up
  /// to what counts as the nominal load, is no overload.
  [[nodiscard]] bool is_within(const Row& row, double load_kg, double most_kg) const {
    std::vector<Taken> taken;
    if (row.own) {
      for (const auto& [id, count] : row.own->counts) taken.push_back({.id = id, .count = count});
    }
    const double nominal_kg = load_kg - above_nominal_kg(taken, evidence_.what.weights);
    return nominal_kg <= most_kg * (1.0 + kSlack) && is_at_most(evidence_, load_kg, most_kg);
  }

  void check_pattern(const Row& row) {
    const LoadPlace::Kind kind = row.reading->reading.place.kind;
    if (kind == LoadPlace::Kind::deck || row.check == Check::rolling) return;
    const bool side = kind == LoadPlace::Kind::stand;
    const auto most = rules::most_on_pattern(evidence_.rulebook, evidence_.scale, side);
    if (!most || is_within(row, row.load->direct_kg, most->kg)) return;
    ProofFinding finding =
        finding_at(row, "over_section", true,
                   in_kg(row.load->direct_kg) + " stood on one pattern; at most " +
                       in_kg(most->kg) + (side ? ", half of the CLC on one side" : ", the CLC"));
    finding.source = most->source;
    findings_.push_back(std::move(finding));
  }

  /// Rough: the load alone on its stand or pair, and an equal share of the dead load.
  void check_cells(const Row& row) {
    const LoadPlace& place = row.reading->reading.place;
    const bool side = place.kind == LoadPlace::Kind::stand;
    if (!side && place.kind != LoadPlace::Kind::section) return;
    if (row.check == Check::rolling) return;
    const int first = side ? place.stand.value : 2 * place.section.value;
    if (first < 0 || first >= evidence_.deck.stand_count()) return;
    double dead = 0.0;
    for (const deck::Module& module : evidence_.deck.modules) dead += module.mass_kg;
    dead /= evidence_.deck.stand_count();
    const double force = dead + row.load->direct_kg / (side ? 1.0 : 2.0);
    const double most = evidence_.deck.stands[static_cast<std::size_t>(first)].cell.capacity_kg;
    if (most <= 0.0 || force <= most) return;
    findings_.push_back(finding_at(row, "over_section", true,
                                   "about " + in_kg(std::round(force)) + " on the cell at " +
                                       units::print(units::StandIndex{first}) +
                                       " with the dead load; its capacity is " + in_kg(most)));
  }

  void check_rolling(const Row& row) {
    if (row.check != Check::rolling || !row.usable) return;
    const auto most = rules::rolling_load(evidence_.rulebook, evidence_.scale);
    // Of a vehicle of unknown mass the display says about what it weighs.
    const double load = row.load ? row.load->kg : row.net_kg() - row.shown.division_kg;
    if (!most || is_within(row, load, most->kg)) return;
    ProofFinding finding = finding_at(
        row, "over_section", true,
        "a rolling load of " + in_kg(load) + "; " + most->because + ", " + in_kg(most->kg));
    finding.source = most->source;
    findings_.push_back(std::move(finding));
  }

  void check_standards(const Row& row) {
    const Known& load = load_of_error(evidence_, row);
    if (row.fixes || load.class_error_kg <= 0.0) return;
    const rules::Scale scale = scale_for(evidence_, row);
    const auto limit = rules::standards_limit_at(
        evidence_.rulebook, scale, evidence_.what.occasion,
        rules::judged_as_kg(evidence_.rulebook, scale, evidence_.what.occasion, load.kg));
    if (!limit || limit->kg <= 0.0) return;
    const double share = load.class_error_kg / limit->kg;
    if (share <= std::max(1.0 + kSlack, worst_)) return;
    worst_ = share;
    coarse_ = &row;
    coarse_limit_ = *limit;
  }

  void tell_coarse() {
    ProofFinding finding = finding_at(
        *coarse_, "standards_too_coarse", true,
        "the standards may be off by " + in_kg(load_of_error(evidence_, *coarse_).class_error_kg) +
            " together; at most " + in_kg(coarse_limit_.kg) + " at this load");
    finding.source = coarse_limit_.source;
    findings_.push_back(std::move(finding));
  }

  Evidence& evidence_;
  std::vector<ProofFinding>& findings_;
  double worst_ = 0.0;
  const Row* coarse_ = nullptr;
  rules::Limit coarse_limit_;
};

class OrderChecker {
 public:
  OrderChecker(Evidence& evidence, std::vector<ProofFinding>& findings)
      : evidence_(evidence), findings_(findings) {}

  void check() {
    for (Row& row : evidence_.rows) {
      if (!row.fresh) continue;
      if (row.set != set_) start(row.set);
      check_time(row);
      if (row.empty_deck) {
        before_ = nullptr;
        continue;
      }
      if (row.reading->reading.zero_before_kg) before_ = nullptr;
      check_way(row);
      check_sequence(row);
      remember(row);
    }
  }

 private:
  /// A small load that must move the display is no load of its own.
  void remember(const Row& row) {
    if (row.check == Check::discrimination) {
      if (row.load && row.load->kg <= 0.0) before_ = nullptr;
    } else if (row.load && !row.fixes) {
      before_ = &row;
    }
    if (row.reading->reading.zero_after_kg) before_ = nullptr;
  }

  void start(int set) {
    set_ = set;
    before_ = nullptr;
  }

  void refuse(Row& row, const char* code, const char* what) {
    row.usable = false;
    findings_.push_back(finding_at(row, code, true, what));
  }

  /// Clocks of different offsets are compared by what they show at Greenwich.
  [[nodiscard]] static bool is_before(const record::ProofReading& one,
                                      const record::ProofReading& than) {
    constexpr std::int64_t kMinute_s = 60;
    const bool both = one.offset_min && than.offset_min;
    const std::int64_t shift_s = both ? kMinute_s * (*one.offset_min - *than.offset_min) : 0;
    return *one.time_s - shift_s < *than.time_s;
  }

  void check_time(Row& row) {
    if (!row.reading->time_s) return;
    if (timed_ != nullptr && is_before(*row.reading, *timed_)) {
      refuse(row, "out_of_order", "the time is before that of the line above; lines as they came");
    } else {
      timed_ = row.reading;
    }
  }

  void check_way(Row& row) {
    const record::Going going = row.reading->reading.going;
    const bool up = row.check == Check::increasing && going == record::Going::down;
    const bool down = row.check == Check::decreasing && going == record::Going::up;
    if (up || down) {
      refuse(row, "labelled_wrong_way",
             up ? "an increasing load that came down; decreasing"
                : "a decreasing load that came up; increasing");
    }
  }

  /// The row against the load that stood there just before; null: the deck was empty.
  void check_sequence(Row& row) {
    if (!row.load || row.fixes || !row.usable) return;
    if (row.check == Check::decreasing) {
      const bool falls = before_ != nullptr && before_->load && before_->load->kg > row.load->kg;
      if (!falls)
        refuse(row, "labelled_wrong_way",
               "a decreasing load with no greater one just before it; increasing, or the greater "
               "load first");
      return;
    }
    if (row.check != Check::increasing || before_ == nullptr || !before_->load) return;
    if (before_->check == Check::decreasing) {
      refuse(row, "out_of_order",
             "an increasing load after decreasing ones; increasing loads first, or zero between");
    } else if (before_->check == Check::increasing &&
               row.load->kg < before_->load->kg * (1.0 - kSlack)) {
      refuse(row, "labelled_wrong_way",
             "smaller than the load before it, with no zero between; decreasing");
    }
  }

  Evidence& evidence_;
  std::vector<ProofFinding>& findings_;
  int set_ = -1;
  const Row* before_ = nullptr;
  const record::ProofReading* timed_ = nullptr;  // the last one that has a time
};

}  // namespace

bool check_scale(const Evidence& evidence, std::vector<ProofFinding>& findings) {
  bool breaks = false;
  for (const rules::ClassFault& fault : rules::class_faults(evidence.rulebook, evidence.scale)) {
    ProofFinding finding;
    finding.code = "class_fault";
    // What can't be judged is no pass.
    finding.blocks = true;
    finding.what = fault.what + (fault.expected.empty() ? "" : "; " + fault.expected);
    finding.source = fault.source;
    findings.push_back(std::move(finding));
    breaks |= fault.breaks;
  }
  return breaks;
}

void check_loads(Evidence& evidence, std::vector<ProofFinding>& findings) {
  LoadChecker(evidence, findings).check();
}

void check_order(Evidence& evidence, std::vector<ProofFinding>& findings) {
  OrderChecker(evidence, findings).check();
}

}  // namespace weighwright::proof
