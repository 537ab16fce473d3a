#include "signal/budget.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "signal/circuit.h"
#include "signal/conductor.h"

namespace weighwright::signal {
namespace {

constexpr double kReference_degC = 20.0;

Eigen::VectorXd forces_of(const std::vector<double>& force_N, int stands, const char* which) {
  const auto* const data = force_N.data();
  const auto size = static_cast<Eigen::Index>(force_N.size());
  Eigen::VectorXd forces = Eigen::Map<const Eigen::VectorXd>(data, size);
  if (size != stands || !forces.allFinite()) {
    throw std::invalid_argument(std::string("signal budget: one finite force a stand for ") +
                                which);
  }
  return forces;
}

class Budgeter {
 public:
  Budgeter(const deck::Deck& deck, Eigen::VectorXd dead_N, Eigen::VectorXd live_N)
      : deck_(deck),
        degC_(deck.cable_temperature_degC.value_or(kReference_degC)),
        dead_N_(std::move(dead_N)),
        live_N_(std::move(live_N)),
        wiring_(wire(deck, degC_, &budget_.assumed)) {}

  SignalBudget make() {
    const Solved dead = solve(wiring_, dead_N_);
    const Solved full = solve(wiring_, dead_N_ + live_N_);
    budget_.sensed = wiring_.sensed;
    budget_.least_interval_V = deck_.min_signal_V;
    budget_.supply_V = wiring_.supply_V;
    budget_.dead_V = dead.output_V;
    budget_.full_V = full.output_V;
    budget_.dead_V_per_V = dead.reading_V_per_V;
    budget_.full_V_per_V = full.reading_V_per_V;
    add_ranges();
    add_supply(dead);
    add_cells(dead);
    add_changes();
    return std::move(budget_);
  }

 private:
  void add_ranges() {
    std::vector<deck::Range> ranges = deck_.ranges;
    if (ranges.empty()) ranges.push_back({deck_.capacity_kg, deck_.interval_kg});
    const double V_per_kg = (budget_.full_V - budget_.dead_V) / deck_.capacity_kg;
    for (const deck::Range& range : ranges) {
      budget_.ranges.push_back(
          {range.capacity_kg, range.interval_kg, V_per_kg * range.interval_kg});
    }
  }

  void add_supply(const Solved& dead) {
    budget_.supply_A = dead.supply_A;
    budget_.load_ohm = wiring_.supply_V / dead.supply_A;
    budget_.box_V = dead.box_V;
    budget_.home_loss = 1.0 - dead.box_V / wiring_.supply_V;
    const double least_V = *std::ranges::min_element(dead.cell_V);
    budget_.cell_loss = 1.0 - least_V / dead.box_V;
  }

  void add_cells(const Solved& dead) {
    const Eigen::VectorXd gains = gains_per_N(wiring_, dead_N_);
    for (std::size_t i = 0; i < wiring_.cells.size(); ++i) {
      const auto s = static_cast<Eigen::Index>(i);
      const WiredCell& cell = wiring_.cells[i];
      CellBudget one;
      one.supply_V = dead.cell_V[i];
      one.dead_share = dead_N_(s) / cell.rated_N;
      one.full_share = (dead_N_(s) + live_N_(s)) / cell.rated_N;
      one.dead_V = one.supply_V * (cell.output_V_per_V * one.dead_share + cell.zero_V_per_V);
      one.full_V = one.supply_V * (cell.output_V_per_V * one.full_share + cell.zero_V_per_V);
      one.weight = gains(s) / gains.mean();
      budget_.cells.push_back(one);
    }
  }

  /// Reading per load: what the live load adds to the ratio that the indicator works with.
  [[nodiscard]] double sensitivity(const Wiring& wiring) const {
    return solve(wiring, dead_N_ + live_N_).reading_V_per_V -
           solve(wiring, dead_N_).reading_V_per_V;
  }

  [[nodiscard]] double change(const Wiring& changed) const {
    return sensitivity(changed) / sensitivity(wiring_) - 1.0;
  }

  void add_changes() {
    if (has_area(deck_.home_cable)) {
      Wiring longer = wiring_;
      longer.home_ohm += metre_ohm(*deck_.home_cable);
      budget_.per_home_metre = change(longer);
    }
    if (has_area(deck_.cell_cable)) {
      Wiring longer = wiring_;
      for (WiredCell& cell : longer.cells) cell.lead_ohm += metre_ohm(*deck_.cell_cable);
      budget_.per_cell_metre = change(longer);
      budget_.per_corner_metre = corner_change();
    }
    if (has_copper()) {
      budget_.per_K = change(wire(deck_, degC_ + 1.0, nullptr));
    }
  }

  /// One cell's cable longer: its gain against the mean of the others, before and after.
  [[nodiscard]] double corner_change() const {
    if (wiring_.cells.size() < 2) return *budget_.per_cell_metre;
    double greatest = 0.0;
    for (std::size_t i = 0; i < wiring_.cells.size(); ++i) {
      Wiring longer = wiring_;
      longer.cells[i].lead_ohm += metre_ohm(*deck_.cell_cable);
      const double one = against_others(longer, i) / against_others(wiring_, i) - 1.0;
      if (std::abs(one) > std::abs(greatest)) greatest = one;
    }
    return greatest;
  }

  [[nodiscard]] double against_others(const Wiring& wiring, std::size_t cell) const {
    const Eigen::VectorXd gains = gains_per_N(wiring, dead_N_);
    const double own = gains(static_cast<Eigen::Index>(cell));
    return own / ((gains.sum() - own) / static_cast<double>(gains.size() - 1));
  }

  [[nodiscard]] double metre_ohm(const deck::Cable& cable) const {
    return core_ohm(1.0, cable.area_m2, degC_);
  }

  static bool has_area(const std::optional<deck::Cable>& cable) {
    return cable && cable->area_m2 > 0.0;
  }

  [[nodiscard]] bool has_copper() const {
    if (wiring_.home_ohm > 0.0) return true;
    const auto led = [](const WiredCell& cell) { return cell.lead_ohm > 0.0; };
    const auto linked = [](const WiredBox& box) { return box.link_ohm > 0.0; };
    return std::ranges::any_of(wiring_.cells, led) || std::ranges::any_of(wiring_.boxes, linked);
  }

  const deck::Deck& deck_;
  double degC_;
  Eigen::VectorXd dead_N_;
  Eigen::VectorXd live_N_;
  SignalBudget budget_;
  Wiring wiring_;
};

}  // namespace

bool is_digital(const deck::Deck& deck) {
  return deck.is_digital();
}

SignalBudget signal_budget(const deck::Deck& deck,
                           const std::vector<double>& dead_N,
                           const std::vector<double>& live_N) {
  const int stands = deck.stand_count();
  Eigen::VectorXd dead = forces_of(dead_N, stands, "dead load");
  Eigen::VectorXd live = Eigen::VectorXd::Constant(
      stands, deck.capacity_kg * deck.site.gravity_m_per_s2 / std::max(stands, 1));
  if (!live_N.empty()) live = forces_of(live_N, stands, "the live load");
  if (is_digital(deck)) {
    SignalBudget none;
    none.digital = true;
    none.why_none = "digital: every cell is read as a number, no millivolts reach the indicator";
    return none;
  }
  return Budgeter(deck, std::move(dead), std::move(live)).make();
}

}  // namespace weighwright::signal
