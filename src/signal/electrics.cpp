#include "signal/electrics.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "signal/bench_box.h"
#include "signal/budget.h"
#include "signal/circuit.h"
#include "signal/explanation.h"
#include "units/quantity.h"

namespace weighwright::signal {
namespace {

using record::CellElectrics;

constexpr double kSafeTest_V = 50.0;  // a cell's strain gauges; from memory, unverified
constexpr double kReference_degC = 20.0;

// Spreads of a sound cell beside its papers; hand estimates, no source.
constexpr double kOutputSpread = 0.01;
// Bridges of 350 to 1000 ohm are all usual.
constexpr double kUnknownOutput_ohm = 500.0;
constexpr double kUnknownOutputSpread = 0.6;  // natural logarithm
constexpr double kUnknownPads = 0.08;         // of the output resistance
constexpr double kUnknownPadsSpread = 0.1;
constexpr double kAmongCells = 0.015;       // spread of cells of one kind
constexpr double kAgree = 0.03;             // cells of one kind do
constexpr double kIndicator_share = 0.005;  // a supply that near to the indicator's was read there
constexpr double kPadsSpread = 0.03;        // of the output resistance
constexpr double kCertifiedZero_V_per_V = 5e-6;
constexpr double kFreeBend = 0.2;  // of the expected force
constexpr double kSupplySpread = 0.02;
constexpr double kInsulation_ohm = 2e10;
constexpr double kInsulationDecades = 0.5;
constexpr int kSoundParameters = 6;

struct Named {
  Quantity quantity;
  std::optional<double> CellElectrics::* member;
  double to_SI;
};

constexpr std::array<Named, kQuantities> kNamed = {
    {{Quantity::input, &CellElectrics::input_ohm, 1.0},
     {Quantity::output, &CellElectrics::output_ohm, 1.0},
     {Quantity::e_plus_s_plus, &CellElectrics::e_plus_s_plus_ohm, 1.0},
     {Quantity::e_plus_s_minus, &CellElectrics::e_plus_s_minus_ohm, 1.0},
     {Quantity::e_minus_s_plus, &CellElectrics::e_minus_s_plus_ohm, 1.0},
     {Quantity::e_minus_s_minus, &CellElectrics::e_minus_s_minus_ohm, 1.0},
     {Quantity::insulation, &CellElectrics::insulation_ohm, 1.0},
     {Quantity::zero, &CellElectrics::zero_mV, 1e-3},
     {Quantity::signal, &CellElectrics::mV, 1e-3},
     {Quantity::excitation, &CellElectrics::excitation_V, 1.0},
     {Quantity::sense, &CellElectrics::sense_V, 1.0}}};

constexpr std::array<const char*, kQuantities> kCodes = {"input_ohm",
                                                         "output_ohm",
                                                         "e_plus_s_plus_ohm",
                                                         "e_plus_s_minus_ohm",
                                                         "e_minus_s_plus_ohm",
                                                         "e_minus_s_minus_ohm",
                                                         "insulation_ohm",
                                                         "zero_mV",
                                                         "mV",
                                                         "excitation_V",
                                                         "sense_V"};

Measured measured_of(const CellElectrics& row) {
  Measured all;
  for (const Named& named : kNamed) {
    const std::optional<double>& value = row.*named.member;
    if (value) all[static_cast<std::size_t>(named.quantity)] = *value * named.to_SI;
  }
  return all;
}

bool nothing_measured(const Measured& measured) {
  return std::ranges::none_of(measured, [](const auto& one) { return one.has_value(); });
}

// ------------------------------------------------------------------------------ what can't be used

class Refuser {
 public:
  Refuser(const record::ElectricSet& readings, int stands, units::Diagnostics& faults)
      : readings_(readings), stands_(stands), faults_(faults) {}

  void check() {
    for (const auto& [stand, row] : readings_.stands) {
      if (stand.value < 0 || stand.value >= stands_) {
        fault(row, "stand " + units::print(stand) + " is not on this deck", "a stand of the deck");
      }
      if (row.sense_V) fault(row, "sense_V of a cell", "the row box has it");
      check_row(row);
    }
    if (readings_.box) check_row(*readings_.box);
  }

 private:
  void fault(const CellElectrics& row, std::string what, std::string expected) {
    faults_.push_back({readings_.source, row.line, 0, std::move(what), std::move(expected)});
  }

  void check_row(const CellElectrics& row) {
    for (std::size_t q = 0; q < kNamed.size(); ++q) {
      const std::optional<double>& value = row.*kNamed[q].member;
      if (value) check_value(row, kNamed[q].quantity, *value);
    }
    if (row.insulation_ohm && !row.test_V) {
      fault(row, "insulation without the voltage of the test",
            "test_V beside it: cell off box and indicator, all its cores together against screen "
            "and body, at most 50 V DC or what the cell's sheet allows");
    }
    if (row.test_V && !(*row.test_V > 0.0 && std::isfinite(*row.test_V))) {
      fault(row, "a test voltage of " + units::print_exact(*row.test_V) + " V", "more than 0");
    }
  }

  void check_value(const CellElectrics& row, Quantity quantity, double value) {
    const bool ohm = unit_of(quantity) == "ohm";
    const bool mV = quantity == Quantity::zero || quantity == Quantity::signal;
    if (std::isnan(value) || (!ohm && !mV && std::isinf(value))) {
      fault(row, code_of(quantity) + " is no number", "a number");
    } else if (ohm && value < 0.0) {
      fault(row, code_of(quantity) + " is negative", "0 ohm or more");
    }
  }

  const record::ElectricSet& readings_;
  int stands_;
  units::Diagnostics& faults_;
};

std::vector<std::string> warnings_of(const CellElectrics& row) {
  if (!row.test_V || *row.test_V <= kSafeTest_V) return {};
  return {"insulation tested with " + units::print_exact(*row.test_V) +
          " V: more than 50 V DC can damage a cell, unless its sheet allows it"};
}

// -------------------------------------------------------------------------------------- one cell

/// A stand does not pull: nearly the factor itself, bent smoothly towards 0 where that is negative.
double pushing(double factor) {
  return kFreeBend * std::log1p(std::exp(factor / kFreeBend));
}

/// What is believed of a cell before it is measured.
struct CellPrior {
  WiredCell wired;
  double output_ohm = kUnknownOutput_ohm;
  double output_spread = kUnknownOutputSpread;  // natural logarithm
  double pads = kUnknownPads;                   // both, of the output resistance
  double pads_spread = kUnknownPadsSpread;
  bool firm = false;  // the resistances are known, from papers or other cells
  std::string basis;  // "papers" or "cells" where they are
  double zero_spread_V_per_V = 0.0;
  double supply_V = 0.0;
  double force_N = 0.0;
  double force_share = 0.0;

  [[nodiscard]] BenchCell at(const Eigen::VectorXd& p) const {
    BenchCell cell;
    cell.output_ohm = output_ohm * std::exp(output_spread * p(0));
    cell.pads_ohm = (pads + pads_spread * p(1)) * cell.output_ohm;
    cell.supply_lead_ohm = cell.signal_lead_ohm = wired.lead_ohm;
    cell.zero_V_per_V = wired.zero_V_per_V + zero_spread_V_per_V * p(2);
    cell.load_V_per_V =
        wired.output_V_per_V * force_N / wired.rated_N * pushing(1.0 + force_share * p(3));
    cell.supply_V = supply_V * (1.0 + kSupplySpread * p(4));
    cell.insulation_ohm = kInsulation_ohm * std::pow(10.0, kInsulationDecades * p(5));
    return cell;
  }
};

std::vector<Explanation> explanations_of(const CellPrior& prior, double meter_ohm) {
  std::vector<Explanation> all;
  const auto stated = prior.firm ? std::optional<double>(prior.output_ohm) : std::nullopt;
  for (const FaultKind& kind : cell_fault_kinds(stated)) {
    Explanation one;
    one.code = kind.code;
    one.detail = kind.detail;
    one.weight = kind.weight;
    one.parameters = kSoundParameters + kind.parameters;
    one.own = kind.parameters;
    const auto make = [kind](const Eigen::VectorXd& p) {
      return kind.make(p.data() + kSoundParameters);
    };
    one.predict = [prior, make, meter_ohm](const Eigen::VectorXd& p) {
      return bench_readings(prior.at(p), make(p), meter_ohm);
    };
    one.fitted = [kind, make](const Eigen::VectorXd& p) { return kind.fitted(make(p)); };
    all.push_back(std::move(one));
  }
  return all;
}

/// The middle of what at least two of these agree upon.
std::optional<double> agreed(std::vector<double> values) {
  if (values.size() < 2) return std::nullopt;
  std::ranges::sort(values);
  const double middle = values[(values.size() - 1) / 2];
  const auto near = [&](double value) { return std::abs(value / middle - 1.0) < kAgree; };
  if (std::ranges::count_if(values, near) < 2) return std::nullopt;
  return middle;
}

class Diagnoser {
 public:
  Diagnoser(const deck::Deck& deck,
            const record::ElectricSet& readings,
            Eigen::VectorXd dead_N,
            const DiagnosisSettings& settings)
      : deck_(deck), readings_(readings), dead_N_(std::move(dead_N)), settings_(settings) {}

  CircuitDiagnosis diagnose() {
    Refuser(readings_, deck_.stand_count(), result_.faults).check();
    if (!result_.faults.empty()) return std::move(result_);
    if (is_digital(deck_)) {
      result_.remarks.emplace_back("digital cells: there is no bridge at their terminals");
      return std::move(result_);
    }
    wiring_ = wire(deck_, deck_.cable_temperature_degC.value_or(kReference_degC), &result_.assumed);
    solved_ = solve(wiring_, dead_N_);
    for (const auto& [stand, row] : readings_.stands) diagnose_cell(stand, row);
    if (readings_.box) diagnose_box(*readings_.box);
    return std::move(result_);
  }

 private:
  void diagnose_cell(units::StandIndex stand, const CellElectrics& row) {
    const Measured measured = measured_of(row);
    if (nothing_measured(measured)) return;
    const CellPrior prior = prior_of(stand);
    Diagnosis one =
        rank(explanations_of(prior, settings_.meter.input_ohm), measured, settings_.meter);
    name_basis(prior.basis, one);
    one.stand = stand;
    one.warnings = warnings_of(row);
    result_.stands.push_back(std::move(one));
  }

  [[nodiscard]] CellPrior prior_of(units::StandIndex stand) const {
    const auto at = static_cast<std::size_t>(stand.value);
    const deck::Cell& cell = deck_.stands[at].cell;
    CellPrior prior;
    prior.wired = wiring_.cells[at];
    set_resistances(stand, prior);
    prior.zero_spread_V_per_V = cell.zero_V_per_V ? kCertifiedZero_V_per_V
                                                  : deck_.sharing.zero_spread * cell.output_V_per_V;
    prior.supply_V = solved_.cell_V[at];
    prior.force_N = dead_N_(stand.value);
    prior.force_share = settings_.force_share;
    return prior;
  }

  static void name_basis(const std::string& basis, Diagnosis& one) {
    for (Cause& cause : one.causes) {
      for (Evidence& item : cause.evidence) {
        if (item.quantity < Quantity::insulation) item.basis = basis;
      }
    }
  }

  /// What the papers leave out is what other cells agree upon, else anything usual.
  /// @param stand  the cell itself does not count; none: all that were measured do
  void set_resistances(std::optional<units::StandIndex> stand, CellPrior& prior) const {
    const deck::Cell& cell = deck_.stands[stand ? static_cast<std::size_t>(stand->value) : 0].cell;
    const bool papers = cell.input_ohm > 0.0 && cell.output_ohm > 0.0;
    const auto known = [&](double given, std::optional<double> CellElectrics::* member) {
      return given > 0.0 ? std::optional<double>(given) : of_others(stand, member);
    };
    const auto input = known(cell.input_ohm, &CellElectrics::input_ohm);
    const auto output = known(cell.output_ohm, &CellElectrics::output_ohm);
    if (input && output) {
      prior.pads = *input / *output - 1.0;
      prior.pads_spread = kPadsSpread;
    }
    if (output || input) {
      prior.output_ohm = output ? *output : *input / (1.0 + prior.pads);
      prior.output_spread = papers ? kOutputSpread : kAmongCells;
      if (!output) prior.output_spread += kUnknownPadsSpread;
      prior.firm = output.has_value();
    }
    if (papers) prior.basis = "papers";
    if (!papers && input && output) prior.basis = "cells";
  }

  [[nodiscard]] std::optional<double> of_others(
      std::optional<units::StandIndex> stand, std::optional<double> CellElectrics::* member) const {
    std::vector<double> values;
    for (const auto& [other, row] : readings_.stands) {
      const std::optional<double>& value = row.*member;
      if (other != stand && value && std::isfinite(*value) && *value > 0.0) {
        values.push_back(*value);
      }
    }
    return agreed(std::move(values));
  }

  /// All cells alike where the papers of some are lacking.
  [[nodiscard]] BoxPrior box_prior() const {
    BoxPrior prior;
    prior.wiring = wiring_;
    prior.dead_N = dead_N_;
    prior.total_share = settings_.total_share;
    prior.zero_spread = deck_.sharing.zero_spread;
    for (std::size_t c = 0; c < prior.wiring.cells.size(); ++c) {
      const deck::Cell& cell = deck_.stands[c].cell;
      if (cell.input_ohm > 0.0 && cell.output_ohm > 0.0) continue;
      CellPrior any;
      set_resistances(std::nullopt, any);
      prior.wiring.cells[c].output_ohm = any.output_ohm;
      prior.wiring.cells[c].input_ohm = any.output_ohm * (1.0 + any.pads);
      prior.output_spread = any.output_spread;
      prior.pads_spread = any.pads_spread;
    }
    return prior;
  }

  /// The supply was read at the indicator: it is no reading of the box's terminals.
  [[nodiscard]] bool is_of_indicator(const Measured& measured, double box_V) const {
    const auto& supply = measured[static_cast<std::size_t>(Quantity::excitation)];
    const auto& sense = measured[static_cast<std::size_t>(Quantity::sense)];
    if (!supply || *supply < box_V) return false;
    const double wide_V = kIndicator_share * wiring_.supply_V;
    const bool as_sensed = wiring_.sensed && sense && std::abs(*sense - *supply) < 0.5 * wide_V;
    return !as_sensed && std::abs(*supply - wiring_.supply_V) < wide_V && *supply - box_V > wide_V;
  }

  void diagnose_box(const CellElectrics& row) {
    Measured measured = measured_of(row);
    if (nothing_measured(measured)) return;
    BoxPrior prior = box_prior();
    std::vector<std::string> warnings = warnings_of(row);
    if (is_of_indicator(measured, solve(prior.wiring, dead_N_).box_V)) {
      prior.wiring.supply_V = *row.excitation_V;
      prior.supply_spread = settings_.meter.volt_share;
      measured[static_cast<std::size_t>(Quantity::excitation)].reset();
      warnings.push_back("excitation_V " + units::print_exact(*row.excitation_V) +
                         " V is the indicator's own supply: measured at the indicator? It is "
                         "taken for that. On the line box it is to be measured at the box's supply "
                         "terminals, sense_V at the indicator's sense terminals");
      if (nothing_measured(measured)) {
        result_.remarks.push_back("box: " + warnings.back());
        return;
      }
    }
    Diagnosis box = rank(box_explanations(prior, result_.stands, settings_.meter.input_ohm),
                         measured, settings_.meter);
    if (prior.output_spread == BoxPrior{}.output_spread) name_basis("papers", box);
    box.warnings = std::move(warnings);
    result_.box = std::move(box);
  }

  const deck::Deck& deck_;
  const record::ElectricSet& readings_;
  Eigen::VectorXd dead_N_;
  DiagnosisSettings settings_;
  CircuitDiagnosis result_;
  Wiring wiring_;
  Solved solved_;
};

}  // namespace

std::string code_of(Quantity quantity) {
  return kCodes.at(static_cast<std::size_t>(quantity));
}

std::string unit_of(Quantity quantity) {
  return quantity < Quantity::zero ? "ohm" : "V";
}

CircuitDiagnosis diagnose_circuit(const deck::Deck& deck,
                                  const record::ElectricSet& readings,
                                  const std::vector<double>& dead_N,
                                  const DiagnosisSettings& settings) {
  Eigen::VectorXd forces =
      Eigen::Map<const Eigen::VectorXd>(dead_N.data(), static_cast<Eigen::Index>(dead_N.size()));
  if (forces.size() != deck.stand_count() || !forces.allFinite()) {
    throw std::invalid_argument("circuit diagnosis: one finite force a stand");
  }
  return Diagnoser(deck, readings, std::move(forces), settings).diagnose();
}

}  // namespace weighwright::signal
