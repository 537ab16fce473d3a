// What a crew reads and finds on a practice site beside loads.
#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "rehearsal/practice.h"

namespace weighwright::rehearsal {
namespace {

using Eigen::VectorXd;
using signal::Quantity;

constexpr double kReading_h = 3.0 / 60.0;  // of one cell
constexpr double kSurvey_h = 0.5;
constexpr double kMeter_h = 10.0 / 60.0;
constexpr double kLook_h = 5.0 / 60.0;
constexpr double kTest_V = 50.0;         // of an insulation tester that cells bear
constexpr double kOhmsLimit_ohm = 40e6;  // of a hand multimeter
constexpr double kInsulationLimit_ohm = 10e9;
constexpr double kMapLift_N = 5000.0;  // what lifting or loading one stand moves it by
constexpr double kMoves = 0.3;         // of that, at the terminal that moved
constexpr double kInfinite = std::numeric_limits<double>::infinity();

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

double rounded(double value, double step) {
  return std::round(value / step) * step;
}

double digits(double value, int count) {
  if (value == 0.0 || !std::isfinite(value)) return value;
  const double step = std::pow(10.0, std::floor(std::log10(std::abs(value))) + 1.0 - count);
  return rounded(value, step);
}

}  // namespace

record::ReadingSet PracticeSite::read(bool with_no_load) {
  return read_set(with_no_load, has("box_mean"));
}

record::ReadingSet PracticeSite::read_at_box(bool with_no_load) {
  return read_set(with_no_load, !described_.is_digital());
}

record::ReadingSet PracticeSite::read_set(bool with_no_load, bool at_box) {
  std::vector<statics::PointLoad> on_deck;
  if (const auto people = crew()) on_deck.push_back(*people);
  const VectorXd stand_N = settle(on_deck).stand_N + creep_N_;
  const VectorXd forces_N = by_terminal(stand_N);
  const VectorXd none_N = VectorXd::Zero(forces_N.size());
  const bool digital = described_.is_digital();
  const auto quantity = [](Quantity one) { return static_cast<std::size_t>(one); };
  record::ReadingSet set;
  set.source = "practice site";
  const bool counts = digital && described_.stands.front().cell.counts.has_value();
  if (digital) set.unit = counts ? record::ReadingUnit::counts : record::ReadingUnit::kg;
  for (int t = 0; t < described_.stand_count(); ++t) {
    other_answers_ = day_.uniform() < 0.5;
    const deck::Cell& cell = described_.stands[at(t)].cell;
    record::StandReading reading;
    reading.stand = units::StandIndex{t};
    double noise = spread_.corners.deck.noise_V * noise_factor();
    double load = 0.0;
    double zero = 0.0;
    double scale = 1e3;
    if (digital) {
      scale = counts ? cell.counts.value_or(1e5) / cell.output_V_per_V
                     : cell.capacity_kg / cell.output_V_per_V;
      // A digital cell is as quiet as a millivoltmeter at a supply of 10 V.
      noise /= 10.0;
      load = slots_V_per_V(stand_N)[at(t)];
      zero = slots_V_per_V(none_N)[at(t)];
      reading.resolution = 1.0;
    } else {
      const TrueCircuit all = circuit();
      const signal::Readings readings =
          at_box ? meter_box(all, forces_N)
                 : meter_cell(all.cells[at(t)], forces_N(t), read_circuit(all, forces_N).bus_V);
      load = readings[quantity(Quantity::signal)];
      zero = readings[quantity(Quantity::zero)];
      reading.resolution = spread_.corners.deck.resolution_V * 1e3;
    }
    if (has("screen_grounded")) noise *= 3.0;
    reading.value = rounded((load + noise * day_.normal()) * scale, reading.resolution);
    if (with_no_load) {
      reading.no_load = rounded((zero + noise * day_.normal()) * scale, reading.resolution);
    }
    set.stands.push_back(reading);
    elapse(kReading_h);
  }
  return set;
}

PracticeSite::Wired PracticeSite::wired(const record::LoadPlace& place, double load_kg) const {
  std::vector<statics::PointLoad> on_deck;
  if (load_kg > 0.0) on_deck = live(place, load_kg, 0.0, 0.0);
  const VectorXd stand_N = still(on_deck).stand_N + creep_N_;
  const bool digital = described_.is_digital();
  const bool counts = digital && described_.stands.front().cell.counts.has_value();
  Wired now;
  if (digital) now.unit = counts ? record::ReadingUnit::counts : record::ReadingUnit::kg;
  now.cells = VectorXd::Zero(described_.stand_count());
  now.cell_noise = VectorXd::Zero(described_.stand_count());
  now.cell_step = digital ? 1.0 : spread_.corners.deck.resolution_V * 1e3;
  const std::vector<double> slots = digital ? slots_V_per_V(stand_N) : std::vector<double>{};
  const VectorXd forces_N = by_terminal(stand_N);
  for (int t = 0; t < described_.stand_count(); ++t) {
    const deck::Cell& cell = described_.stands[at(t)].cell;
    double scale = 1e3;
    double noise = spread_.corners.deck.noise_V * noise_factor();
    if (has("screen_grounded")) noise *= 3.0;
    if (digital) {
      scale = (counts ? cell.counts.value_or(1e5) : cell.capacity_kg) / cell.output_V_per_V;
      noise /= 10.0;
      now.cells(t) = slots[at(t)] * scale;
    } else {
      const TrueCircuit all = circuit();
      const signal::Readings readings =
          has("box_mean")
              ? meter_box(all, forces_N)
              : meter_cell(all.cells[at(t)], forces_N(t), read_circuit(all, forces_N).bus_V);
      now.cells(t) = readings[static_cast<std::size_t>(Quantity::signal)] * scale;
    }
    now.cell_noise(t) = noise * scale;
  }
  now.indication_step_kg = step_kg(Look::display);
  now.indication_kg = raw_kg(stand_N) - zero_kg_;
  now.indication_noise_kg =
      spread_.corners.zero_drift_of_d * now.indication_step_kg * noise_factor();
  return now;
}

record::GapSet PracticeSite::gaps() {
  const Standing standing = settle({});
  record::GapSet set;
  set.source = "practice site";
  const auto measured_mm = [&](double gap_m) {
    const double seen_m = gap_m + spread_.corners.deck.gap_m * day_.normal();
    return std::max(0.05, rounded(seen_m, 0.05e-3) * 1e3);
  };
  for (int i = 0; i < described_.stand_count(); ++i) {
    if (standing.stand_N(i) > 0.0) continue;
    record::Gap gap;
    gap.place.stand = units::StandIndex{i};
    gap.gap_mm = measured_mm(standing.stand_gap_m(i));
    set.gaps.push_back(gap);
  }
  for (int b = 0; b < static_cast<int>(standing.bearing_open.size()); ++b) {
    if (!standing.bearing_open[at(b)]) continue;
    record::Gap gap;
    gap.place.is_bearing = true;
    gap.place.joint = b / 2;
    gap.place.side = b % 2 == 0 ? units::Side::left : units::Side::right;
    gap.gap_mm = measured_mm(standing.bearing_gap_m(b));
    set.gaps.push_back(gap);
  }
  elapse(kSurvey_h);
  return set;
}

record::HeightSet PracticeSite::survey() {
  record::HeightSet set;
  set.source = "practice site";
  const VectorXd tops = tops_m();
  for (int i = 0; i < described_.stand_count(); ++i) {
    set.height_mm.emplace_back((tops(i) + spread_.corners.deck.survey_m * day_.normal()) * 1e3);
  }
  elapse(kSurvey_h);
  return set;
}

record::MapSet PracticeSite::map() {
  record::MapSet set;
  set.source = "practice site";
  const VectorXd stand_N = settle({}).stand_N;
  const TrueCircuit all = circuit();
  const double bus_V =
      described_.is_digital() ? 1.0 : read_circuit(all, by_terminal(stand_N)).bus_V;
  const auto reads = [&](const VectorXd& forces_N) {
    if (described_.is_digital()) return slots_V_per_V(forces_N);
    std::vector<double> list;
    const VectorXd on = by_terminal(forces_N);
    for (int t = 0; t < described_.stand_count(); ++t) {
      const auto signal = static_cast<std::size_t>(Quantity::signal);
      list.push_back(has("box_mean") ? meter_box(all, on)[signal]
                                     : meter_cell(all.cells[at(t)], on(t), bus_V)[signal]);
    }
    return list;
  };
  const std::vector<double> before = reads(stand_N);
  for (int i = 0; i < described_.stand_count(); ++i) {
    other_answers_ = day_.uniform() < 0.5;
    VectorXd moved_N = stand_N;
    moved_N(i) += kMapLift_N;
    const std::vector<double> after = reads(moved_N);
    int most = 0;
    for (int t = 1; t < described_.stand_count(); ++t) {
      if (std::abs(after[at(t)] - before[at(t)]) > std::abs(after[at(most)] - before[at(most)])) {
        most = t;
      }
    }
    const deck::Cell& cell = described_.stands[at(most)].cell;
    const double expected = kMapLift_N / (cell.capacity_kg * 9.80665) * cell.output_V_per_V * bus_V;
    elapse(kReading_h);
    if (std::abs(after[at(most)] - before[at(most)]) < kMoves * expected) continue;
    if (has("box_mean")) continue;  // everything moves alike: nobody can say which
    set.loaded_and_moved.emplace_back(units::StandIndex{i}, units::StandIndex{most});
  }
  return set;
}

record::ElectricSet PracticeSite::meter(const std::vector<units::StandIndex>& terminals, bool box) {
  if (described_.is_digital()) {
    throw std::invalid_argument("rehearsal: digital cells have no bridge at their terminals");
  }
  const VectorXd forces_N = by_terminal(settle({}).stand_N + creep_N_);
  const TrueCircuit all = circuit();
  const double bus_V = read_circuit(all, forces_N).bus_V;
  const auto ohms = [&](double ohm) -> std::optional<double> {
    if (ohm > kOhmsLimit_ohm) return kInfinite;
    return rounded(ohm * (1.0 + spread_.meter * day_.normal()), 0.1);
  };
  const auto filled = [&](const signal::Readings& r) {
    const auto of = [&](Quantity quantity) { return r[static_cast<std::size_t>(quantity)]; };
    record::CellElectrics e;
    e.input_ohm = ohms(of(Quantity::input));
    e.output_ohm = ohms(of(Quantity::output));
    e.e_plus_s_plus_ohm = ohms(of(Quantity::e_plus_s_plus));
    e.e_plus_s_minus_ohm = ohms(of(Quantity::e_plus_s_minus));
    e.e_minus_s_plus_ohm = ohms(of(Quantity::e_minus_s_plus));
    e.e_minus_s_minus_ohm = ohms(of(Quantity::e_minus_s_minus));
    const double insulation = of(Quantity::insulation) * std::exp(0.05 * day_.normal());
    e.insulation_ohm = insulation > kInsulationLimit_ohm ? kInfinite : digits(insulation, 2);
    e.test_V = kTest_V;
    const double noise = spread_.corners.deck.noise_V;
    const double step = spread_.corners.deck.resolution_V;
    e.zero_mV = rounded(of(Quantity::zero) + noise * day_.normal(), step) * 1e3;
    e.mV = rounded(of(Quantity::signal) + noise * day_.normal(), step) * 1e3;
    e.excitation_V = rounded(of(Quantity::excitation), 0.001);
    return e;
  };
  record::ElectricSet set;
  set.source = "practice site";
  for (const units::StandIndex terminal : terminals) {
    set.stands.emplace_back(terminal, filled(meter_cell(all.cells[at(terminal.value)],
                                                        forces_N(terminal.value), bus_V)));
    elapse(kMeter_h);
  }
  if (box) {
    const signal::Readings readings = meter_box(all, forces_N);
    set.box = filled(readings);
    set.box->sense_V = rounded(readings[static_cast<std::size_t>(Quantity::sense)], 0.001);
    elapse(kMeter_h);
  }
  return set;
}

}  // namespace weighwright::rehearsal
