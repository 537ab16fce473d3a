// Cells, box and indicator of a practice site as they are now.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "rehearsal/practice.h"
#include "signal/conductor.h"
#include "signal/four_pole.h"

namespace weighwright::rehearsal {
namespace {

using Eigen::VectorXd;

constexpr double kReference_degC = 20.0;
constexpr double kOpen_ohm = 1e11;
// Hand estimates, no source.
constexpr double kContact_per_K = 0.01;  // relative, of a corroded contact's resistance
constexpr double kOtherCapacity = 1.0;   // rated output of a cell of another capacity, relative
constexpr double kLightningLeak_Mohm = 10.0;  // about
constexpr double kLightningZero = 0.03;       // of rated output

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

void add_leak(signal::BenchFault& fault, int to, double siemens) {
  if (siemens <= 0.0) return;
  double sum = siemens;
  if (fault.leak_from != signal::kNone && fault.leak_to == to) sum += 1.0 / fault.leak_ohm;
  fault.leak_from = signal::signal_plus;
  fault.leak_to = to;
  fault.leak_ohm = 1.0 / sum;
  fault.body_leak_ohm = 1.0 / (siemens + (fault.body_leak_ohm > 0 ? 1.0 / fault.body_leak_ohm : 0));
}

/// One core off, or both of a pair.
void open(TrueCell& cell, bool signal, double cores) {
  if (cores > 1.5) {
    (signal ? cell.bench.signal_lead_ohm : cell.bench.supply_lead_ohm) += kOpen_ohm;
    return;
  }
  cell.fault.open_lead = signal ? signal::signal_plus : signal::supply_plus;
}

}  // namespace

/// Conductance of a leak against that at half wet: rain soaks, sun dries, and it wanders.
double PracticeSite::wetness(const Struck& struck) const {
  const double wander = std::sin(2.0 * std::numbers::pi * (hours_ / 3.7 + struck.draws[2]));
  return (0.3 + 1.4 * wet_) * std::exp(0.15 * wander);
}

std::vector<int> PracticeSite::cell_of_terminal() const {
  std::vector<int> cells(described_.stands.size());
  for (int i = 0; i < described_.stand_count(); ++i) cells[at(i)] = i;
  for (const Struck& struck : struck_) {
    if (struck.fault.code != "swapped") continue;
    std::swap(cells[at(stand_of(described_, struck.fault.places[0])->value)],
              cells[at(stand_of(described_, struck.fault.places[1])->value)]);
  }
  return cells;
}

TrueCell PracticeSite::true_cell(int stand, int terminal) const {
  const signal::WiredCell& wired = corners_.untrimmed().cells[at(stand)];
  const double warmer_K = steel_degC_ - kReference_degC;
  TrueCell cell;
  cell.box = corners_.untrimmed().cells[at(terminal)].box;
  cell.bench.output_ohm = wired.output_ohm;
  cell.bench.pads_ohm = wired.input_ohm - wired.output_ohm;
  cell.bench.supply_lead_ohm = cell.bench.signal_lead_ohm =
      wired.lead_ohm * (1.0 + signal::kCopper_per_K * warmer_K);
  cell.bench.insulation_ohm = insulation_ohm_(stand);
  cell.bench.zero_V_per_V = zero_V_per_V_(stand) + zero_per_K_(stand) * warmer_K;
  cell.signal_V_per_V_per_N =
      wired.output_V_per_V / wired.rated_N * (1.0 + span_per_K_(stand) * warmer_K);
  add_faults(stand, cell);
  // The box's trims belong to its terminals; a section's one acts on both cells about as two would.
  const TrueTrim& trim = trims_[at(terminal)];
  if (trim.kind == "signal") cell.bench.signal_lead_ohm += trim.ohm / 2.0;
  if (trim.kind == "excitation") cell.bench.supply_lead_ohm += trim.ohm / 2.0;
  if (trim.kind == "section") cell.bench.signal_lead_ohm += trims_[at(terminal - terminal % 2)].ohm;
  return cell;
}

void PracticeSite::add_faults(int stand, TrueCell& cell) const {
  const std::string name = units::print(units::StandIndex{stand});
  const signal::WiredCell& wired = corners_.untrimmed().cells[at(stand)];
  for (const Struck& struck : struck_) {
    const Fault& fault = struck.fault;
    const double sign = struck.draws[0] < 0.5 ? -1.0 : 1.0;
    const int to = sign > 0.0 ? signal::supply_plus : signal::supply_minus;
    if (fault.code == "lightning") {
      for (int i = 0; i < static_cast<int>(*fault.size); ++i) {
        const int first = static_cast<int>(struck.draws[1] * described_.stand_count());
        if ((first + 3 * i) % described_.stand_count() != stand) continue;
        const double own = (i % 2 == 0 ? 1.0 : -1.0) * sign * (0.5 + struck.draws[2]);
        cell.fault.zero_shift_V_per_V += own * kLightningZero * wired.output_V_per_V;
        add_leak(cell.fault, to, 1e-6 / (kLightningLeak_Mohm * (0.3 + i * struck.draws[3])));
      }
    }
    if (fault.places.empty() ||
        std::find(fault.places.begin(), fault.places.end(), name) == fault.places.end()) {
      continue;
    }
    if (fault.code == "moisture") add_leak(cell.fault, to, 1e-6 / *fault.size * wetness(struck));
    if (fault.code == "signal_open") open(cell, true, *fault.size);
    if (fault.code == "excitation_open") open(cell, false, *fault.size);
    if (fault.code == "reversed") {
      cell.fault.wired = {signal::supply_plus, signal::supply_minus, signal::signal_minus,
                          signal::signal_plus};
    }
    if (fault.code == "wrong_capacity") {
      cell.signal_V_per_V_per_N *=
          kOtherCapacity * described_.stands[at(stand)].cell.capacity_kg / (*fault.size * 1000.0);
    }
    if (fault.code == "wrong_resistance") {
      cell.fault.other_output_ohm = *fault.size;
      cell.fault.other_pads_share = cell.bench.pads_ohm / cell.bench.output_ohm;
    }
    if (fault.code == "shocked") {
      cell.fault.zero_shift_V_per_V += sign * *fault.size / 100.0 * wired.output_V_per_V;
    }
  }
}

TrueCircuit PracticeSite::circuit() const {
  const signal::Wiring& wiring = corners_.untrimmed();
  const double copper = 1.0 + signal::kCopper_per_K * (steel_degC_ - kReference_degC);
  TrueCircuit circuit;
  const std::vector<int> cells = cell_of_terminal();
  for (int t = 0; t < described_.stand_count(); ++t) {
    circuit.cells.push_back(true_cell(cells[at(t)], t));
  }
  for (const signal::WiredBox& box : wiring.boxes)
    circuit.link_ohm.push_back(box.link_ohm * copper);
  circuit.home_ohm = wiring.home_ohm * copper;
  circuit.sensed = wiring.sensed;
  circuit.supply_V = wiring.supply_V;
  circuit.indicator_ohm = wiring.indicator_ohm;
  for (const Struck& struck : struck_) {
    if (struck.fault.code == "moisture" && struck.fault.places.front() == "box") {
      const double siemens = 1e-6 / *struck.fault.size * wetness(struck);
      circuit.leak_S_S += (struck.draws[0] < 0.5 ? -1.0 : 1.0) * siemens;
      circuit.body_leak_S += siemens;
    }
    if (struck.fault.code == "supply_loss") {
      const double loss = *struck.fault.size / 100.0;
      const double warmer_K = steel_degC_ - kReference_degC;
      circuit.contact_ohm += loss / (1.0 - loss) * (input_ohm(circuit) + 2.0 * circuit.home_ohm) *
                             std::max(0.1, 1.0 + kContact_per_K * warmer_K);
    }
  }
  return circuit;
}

VectorXd PracticeSite::by_terminal(const VectorXd& stand_N) const {
  const std::vector<int> cells = cell_of_terminal();
  VectorXd forces(stand_N.size());
  for (int t = 0; t < described_.stand_count(); ++t) forces(t) = stand_N(cells[at(t)]);
  return forces;
}

/// Ratio signal of every digital cell at the address of its terminal.
std::vector<double> PracticeSite::slots_V_per_V(const VectorXd& stand_N) const {
  const std::vector<int> cells = cell_of_terminal();
  std::vector<double> slots;
  for (int t = 0; t < described_.stand_count(); ++t) {
    const int stand = cells[at(t)];
    const TrueCell cell = true_cell(stand, t);
    const auto signal = static_cast<std::size_t>(signal::Quantity::signal);
    const bool silent = at_place("cell_silent", units::print(units::StandIndex{stand}));
    slots.push_back(silent ? 0.0 : meter_cell(cell, stand_N(stand), 1.0)[signal]);
  }
  for (const Struck& struck : struck_) {
    if (struck.fault.code != "address_doubled") continue;
    const int first = stand_of(described_, struck.fault.places[0])->value;
    const int second = stand_of(described_, struck.fault.places[1])->value;
    if (other_answers_) slots[at(first)] = slots[at(second)];
    slots[at(second)] = 0.0;
  }
  return slots;
}

/// What the indicator makes of forces on the cells, before zero and rounding.
double PracticeSite::raw_kg(const VectorXd& stand_N) const {
  const VectorXd felt_N = stand_N + creep_N_;
  if (!described_.is_digital()) {
    return kg_per_V_per_V_ * read_circuit(circuit(), by_terminal(felt_N)).V_per_V + drift_kg();
  }
  const std::vector<double> slots = slots_V_per_V(felt_N);
  double sum = 0.0;
  for (std::size_t t = 0; t < slots.size(); ++t) sum += trims_[t].factor * slots[t];
  return kg_per_V_per_V_ * sum + drift_kg();
}

/// Of the indicator: with the temperature, and with what a screen carries.
double PracticeSite::drift_kg() const {
  double drift = indicator_kg_per_K_ * (steel_degC_ - kReference_degC);
  for (const Struck& struck : struck_) {
    if (struck.fault.code != "screen_grounded") continue;
    const double turn = 2.0 * std::numbers::pi;
    drift += *struck.fault.size * (0.7 * std::sin(turn * (hours_ / 5.3 + struck.draws[1])) +
                                   0.3 * std::sin(turn * (hours_ / 0.6 + struck.draws[2])));
  }
  return drift;
}

VectorXd PracticeSite::true_zero_V_per_V() const {
  VectorXd zeros(described_.stand_count());
  const std::vector<int> cells = cell_of_terminal();
  for (int t = 0; t < described_.stand_count(); ++t) {
    const TrueCell cell = true_cell(cells[at(t)], t);
    zeros(cells[at(t)]) =
        meter_cell(cell, 0.0, 1.0)[static_cast<std::size_t>(signal::Quantity::zero)];
  }
  return zeros;
}

VectorXd PracticeSite::true_gains() const {
  const VectorXd forces_N = still({}).stand_N;
  const double step_N = 1000.0;
  VectorXd gains(forces_N.size());
  const double before_kg = raw_kg(forces_N);
  for (Eigen::Index i = 0; i < gains.size(); ++i) {
    VectorXd more_N = forces_N;
    more_N(i) += step_N;
    gains(i) = (raw_kg(more_N) - before_kg) / step_N * described_.site.gravity_m_per_s2;
  }
  return gains;
}

}  // namespace weighwright::rehearsal
