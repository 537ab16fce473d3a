#include "share/evidence.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <type_traits>

#include "signal/cell.h"
#include "units/quantity.h"

namespace weighwright::share {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

constexpr double kPossibleOverRated =
    1.5;  // a reading above this share of full output is no reading

std::string print_mV(double volts) {
  return units::print_fixed(volts * 1e3, 2) + " mV";
}

/// Collects states while walking through the events.
class Gatherer {
 public:
  Gatherer(const deck::Deck& deck, const statics::Model& model)
      : deck_(deck),
        model_(model),
        stands_(deck.stand_count()),
        no_load_(at(stands_)),
        cell_of_(at(stands_)) {
    for (int i = 0; i < stands_; ++i) cell_of_[at(i)] = i;
    pending_raise_ = Eigen::VectorXd::Zero(stands_);
    pending_variance_ = Eigen::VectorXd::Zero(stands_);
  }

  GatheredEvidence gather(const std::vector<record::Measurement>& events) {
    read_maps(events);
    take_no_loads(events);
    for (const record::Measurement& event : events) {
      std::visit([this](const auto& value) { take(value); }, event);
    }
    finish(events);
    GatheredEvidence result;
    result.faults = faults_;
    if (faults_.empty()) result.evidence = evidence_;
    return result;
  }

 private:
  void fault(const std::string& file, int line, std::string what, std::string expected) {
    faults_.push_back({file, line, 0, std::move(what), std::move(expected)});
  }

  /// A map holds for the whole job: the wires do not change when they are found out.
  void read_maps(const std::vector<record::Measurement>& events) {
    for (const record::Measurement& event : events) {
      const auto* map = std::get_if<record::MapSet>(&event);
      if (map == nullptr) continue;
      std::vector<int> cell_of = cell_of_;
      std::vector<int> taken(at(stands_), 0);
      for (const auto& [loaded, moved] : map->loaded_and_moved) {
        cell_of[at(loaded.value)] = moved.value;
        ++taken[at(moved.value)];
      }
      std::vector<int> sorted = cell_of;
      std::sort(sorted.begin(), sorted.end());
      if (std::adjacent_find(sorted.begin(), sorted.end()) != sorted.end()) {
        fault(map->source, 0, "two stands moved the same reading",
              "every stand loaded in turn, each moving a reading of its own");
        return;
      }
      cell_of_ = cell_of;
      evidence_.map_proven = map->loaded_and_moved.size() == at(stands_);
      for (int i = 0; i < stands_; ++i) evidence_.remapped |= cell_of_[at(i)] != i;
    }
  }

  /// No-load values of a cell hold for its whole history; the latest one given wins.
  void take_no_loads(const std::vector<record::Measurement>& events) {
    for (const record::Measurement& event : events) {
      const auto* set = std::get_if<record::ReadingSet>(&event);
      if (set == nullptr) continue;
      for (const record::StandReading& reading : set->stands) {
        const std::optional<double> factor = newtons(set->unit, reading);
        if (reading.no_load && factor) {
          no_load_[at(reading.stand.value)] = *reading.no_load * *factor;
        }
      }
    }
  }

  std::optional<double> newtons(record::ReadingUnit unit,
                                const record::StandReading& reading) const {
    return signal::newtons_per_unit(deck_.stands[at(reading.stand.value)].cell, unit,
                                    reading.excitation_V.value_or(deck_.excitation_V),
                                    deck_.site.gravity_m_per_s2);
  }

  void take(const record::MapSet&) {}

  /// Corner, span and circuit readings say nothing of how the dead load is shared.
  template <class Other>
  void take(const Other& set) {
    fault(set.source, 1, "this kind of file says nothing of the dead-load balance",
          "readings, turns, heights, gaps or a map; loads on the deck belong to trim and span, "
          "resistances and forces to signal");
  }

  void take(const record::HeightSet& set) {
    if (evidence_.survey_m.size() == 0) {
      evidence_.survey_m =
          Eigen::VectorXd::Constant(stands_, std::numeric_limits<double>::quiet_NaN());
    }
    for (int i = 0; i < stands_ && i < static_cast<int>(set.height_mm.size()); ++i) {
      if (!set.height_mm[at(i)]) continue;
      // Back to the first state: what was turned before the survey is not part of the pads.
      evidence_.survey_m(i) = *set.height_mm[at(i)] * 1e-3 - used_(i);
    }
  }

  double used_(int stand) const {
    double sum = pending_raise_(stand);
    for (const State& state : evidence_.states) sum += state.raise_m(stand);
    return sum;
  }

  void take(const record::TurnSet& set) {
    for (const record::StandTurn& turn : set.stands) {
      const deck::Stand& stand = deck_.stands[at(turn.stand.value)];
      double raise_m = 0.0;
      double error = deck_.sharing.turn_error;
      if (turn.turns) {
        if (stand.adjust == deck::Adjust::shims) {
          fault(set.source, turn.line, units::print(turn.stand) + " stands on shims, not on screws",
                "a column shim_mm for it");
          continue;
        }
        raise_m = *turn.turns * stand.pitch_m;
      } else if (turn.shim_mm) {
        raise_m = *turn.shim_mm * 1e-3;
        error = kShimError;
      }
      if (turn.until_touch) add_touch(turn.stand, raise_m);
      pending_raise_(turn.stand.value) += raise_m;
      pending_variance_(turn.stand.value) += error * error * raise_m * raise_m;
      pending_ = true;
    }
    last_is_reading_ = false;
  }

  /// Turned until the cell began to answer: that turn was the air under the stand.
  void add_touch(units::StandIndex stand, double raise_m) {
    if (evidence_.states.empty()) return;
    add_gap(contact_of(stand), raise_m);
  }

  int contact_of(units::StandIndex stand) const {
    for (int i = 0; i < model_.contact_count(); ++i) {
      const statics::Contact& contact = model_.contacts[at(i)];
      if (!contact.is_bearing && contact.stand == stand) return i;
    }
    return -1;
  }

  int contact_of(const record::GapPlace& place) const {
    if (!place.is_bearing) return contact_of(place.stand);
    for (int i = 0; i < model_.contact_count(); ++i) {
      const statics::Contact& contact = model_.contacts[at(i)];
      if (contact.is_bearing && contact.joint == place.joint && contact.side == place.side)
        return i;
    }
    return -1;
  }

  void add_gap(int contact, double gap_m) {
    if (contact < 0 || evidence_.states.empty()) return;
    GapSeen seen;
    seen.contact = contact;
    seen.gap_m = gap_m;
    evidence_.states.back().gaps.push_back(seen);
  }

  void take(const record::GapSet& set) {
    if (evidence_.states.empty() || pending_) {
      fault(set.source, 0, "gaps were measured, but nothing was read in this state",
            "a readings file before the gaps file, after the last turns");
      return;
    }
    for (const record::Gap& gap : set.gaps) {
      const int contact = contact_of(gap.place);
      if (contact < 0) {
        fault(set.source, gap.line, "this joint has no bearings", "a joint that is a hinge");
        continue;
      }
      add_gap(contact, gap.gap_mm * 1e-3);
    }
    last_is_reading_ = true;
  }

  /// A value that this cell can't give at this supply is a mistake in typing or wiring.
  bool possible(const record::ReadingSet& set, const record::StandReading& reading) {
    const deck::Cell& cell = deck_.stands[at(reading.stand.value)].cell;
    const double full_N = cell.capacity_kg * units::kStandardGravity_m_per_s2;
    const std::optional<double> factor = newtons(set.unit, reading);
    if (!factor) {
      fault(set.source, reading.line,
            units::print(reading.stand) +
                " is read in counts, and the deck file does not say what a count is",
            "counts = ... (at capacity) under [cell]");
      return false;
    }
    if (std::abs(reading.value * *factor) <= kPossibleOverRated * full_N) return true;
    const double excitation_V = reading.excitation_V.value_or(deck_.excitation_V);
    const double full_V = cell.output_V_per_V * excitation_V;
    std::string what =
        units::print(reading.stand) + " reads " + units::print_exact(reading.value) + " ";
    std::string expected;
    if (set.unit == record::ReadingUnit::mV) {
      what += "mV, beyond the full output of its cell (" + print_mV(full_V) + " at " +
              units::print_exact(excitation_V) + " V)";
      expected = "millivolts (not volts, not microvolts, not the indicator's kg) between 0 and " +
                 print_mV(full_V);
    } else {
      what += "in the unit of its column, beyond " +
              units::print_exact(kPossibleOverRated * full_N / *factor) +
              ", one and a half times the capacity of its cell";
      expected = "a value between 0 and " + units::print_exact(full_N / *factor);
    }
    fault(set.source, reading.line, what, expected);
    return false;
  }

  void take(const record::ReadingSet& set) {
    bool usable = static_cast<int>(set.stands.size()) == stands_;
    for (const record::StandReading& reading : set.stands) usable &= possible(set, reading);
    if (!usable) return;
    const bool new_state = evidence_.states.empty() || pending_;
    if (new_state) open_state();
    State& state = evidence_.states.back();
    evidence_.last.resize(at(stands_));
    evidence_.unit = set.unit;
    if (new_state) sum_ = Eigen::VectorXd::Zero(stands_);
    ++state.readings;
    for (int i = 0; i < stands_; ++i) {
      // The cell that answers for stand i: its reading, its no-load value, its own sensitivity.
      const record::StandReading& reading = set.stands[at(cell_of_[at(i)])];
      const deck::Cell& cell = deck_.stands[at(reading.stand.value)].cell;
      const double excitation_V = reading.excitation_V.value_or(deck_.excitation_V);
      const double factor = *newtons(set.unit, reading);
      const std::optional<double>& zero = no_load_[at(reading.stand.value)];
      sum_(i) += reading.value * factor - zero.value_or(0.0);
      const double sensitivity = signal::sensitivity_V_per_N(cell, excitation_V);
      const double rounding_N = reading.resolution * factor / std::sqrt(12.0);
      // What an instrument saw of its own noise counts before what the deck file says of noise.
      const double noise_N =
          reading.noise ? std::abs(*reading.noise * factor) : deck_.sharing.noise_V / sensitivity;
      state.noise_N(i) = std::sqrt((rounding_N * rounding_N + noise_N * noise_N) / state.readings);
      Display& display = evidence_.last[at(i)];
      display.signal_V = reading.value * factor * sensitivity;
      display.no_load_V = zero.value_or(0.0) * sensitivity;
      display.excitation_V = excitation_V;
      display.sensitivity_V_per_N = sensitivity;
      display.step_V = reading.resolution * factor * sensitivity;
      if (set.unit == record::ReadingUnit::mV && !reading.excitation_V && !deck_.excitation_given) {
        evidence_.excitation_assumed = true;
      }
      if (set.stands[at(i)].gap_mm) {
        add_gap(contact_of(units::StandIndex{i}), *set.stands[at(i)].gap_mm * 1e-3);
      }
    }
    state.force_N = sum_ / state.readings;
    if (state.readings > 1) show_mean(state.force_N);
    last_is_reading_ = true;
  }

  void show_mean(const Eigen::VectorXd& force_N) {
    for (int i = 0; i < stands_; ++i) {
      Display& display = evidence_.last[at(i)];
      display.signal_V = force_N(i) * display.sensitivity_V_per_N + display.no_load_V;
    }
  }

  void open_state() {
    State state;
    state.raise_m =
        evidence_.states.empty() ? Eigen::VectorXd::Zero(stands_).eval() : pending_raise_;
    state.raise_error = Eigen::VectorXd::Zero(stands_);
    for (int i = 0; i < stands_; ++i) {
      if (state.raise_m(i) != 0.0) {
        state.raise_error(i) = std::sqrt(pending_variance_(i)) / std::abs(state.raise_m(i));
      }
    }
    // Turns made before anything was read belong to the pads; a survey until then grows by them.
    if (evidence_.states.empty()) {
      before_first_ = pending_raise_;
      if (evidence_.survey_m.size() > 0) evidence_.survey_m += pending_raise_;
    }
    state.force_N = Eigen::VectorXd::Zero(stands_);
    state.noise_N = Eigen::VectorXd::Zero(stands_);
    evidence_.states.push_back(state);
    pending_raise_.setZero();
    pending_variance_.setZero();
    pending_ = false;
  }

  void finish(const std::vector<record::Measurement>& events) {
    if (!faults_.empty()) return;
    if (evidence_.states.empty()) {
      fault("", 0, "no readings were given", "a readings file (stand,mV) for every stand");
      return;
    }
    if (!last_is_reading_ && !events.empty()) {
      const auto* turns = std::get_if<record::TurnSet>(&events.back());
      fault(turns != nullptr ? turns->source : "", 0, "the last file is not a reading",
            "the readings that were taken after these turns as the last file");
      return;
    }
    evidence_.no_load_known = true;
    evidence_.zero_N = Eigen::VectorXd::Zero(stands_);
    evidence_.used_m = Eigen::VectorXd::Zero(stands_);
    for (int i = 0; i < stands_; ++i) {
      const deck::Cell& cell = deck_.stands[at(cell_of_[at(i)])].cell;
      const double full_N = cell.capacity_kg * units::kStandardGravity_m_per_s2;
      const bool known = no_load_[at(cell_of_[at(i)])].has_value();
      evidence_.no_load_known &= known;
      // A no-load reading is itself a reading: its noise stays in every net value.
      evidence_.zero_N(i) =
          known ? evidence_.states.back().noise_N(i) : deck_.sharing.zero_spread * full_N;
      for (const State& state : evidence_.states) evidence_.used_m(i) += state.raise_m(i);
    }
    // Travel counts from the first reading; shims that were placed before it can still be taken
    // out.
    for (int i = 0; i < stands_ && before_first_.size() > 0; ++i) {
      if (deck_.stands[at(i)].adjust == deck::Adjust::shims)
        evidence_.used_m(i) += before_first_(i);
    }
  }

  const deck::Deck& deck_;
  const statics::Model& model_;
  int stands_;
  Evidence evidence_;
  units::Diagnostics faults_;
  std::vector<std::optional<double>> no_load_;
  std::vector<int> cell_of_;
  Eigen::VectorXd pending_raise_;
  Eigen::VectorXd pending_variance_;
  Eigen::VectorXd before_first_;
  Eigen::VectorXd sum_;
  bool pending_ = false;
  bool last_is_reading_ = false;
};

}  // namespace

GatheredEvidence gather(const deck::Deck& deck,
                        const statics::Model& model,
                        const std::vector<record::Measurement>& events) {
  return Gatherer(deck, model).gather(events);
}

}  // namespace weighwright::share
