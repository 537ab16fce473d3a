#include "signal/bench_box.h"

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <string_view>

#include "signal/bench_fault.h"

namespace weighwright::signal {
namespace {

// Spreads of what all cells have in common; hand estimates, no source.
constexpr double kInsulation_ohm = 2e10;  // one cell
constexpr double kInsulationDecades = 0.5;
constexpr double kNoLeak_ohm = 1e13;
constexpr int kCommon = 6;

// Weights beside those of one cell's faults (sound: 0.66 there).
constexpr double kSound = 0.66;
constexpr double kBrokenSense = 0.04;
constexpr double kSupplyContact = 0.04;
constexpr double kNoSupply = 0.02;
constexpr double kContactMedian_ohm = 5.0;
constexpr double kContactSpread = 1.0;  // natural logarithm
constexpr double kSenseMiddle = 0.25;   // of the supply: a broken core floats anywhere below it
constexpr double kSenseSpread = 0.3;
constexpr double kSenseMost = 0.97;
constexpr double kSenseContact = 0.02;
constexpr double kSenseContactLoss = 0.02;  // median, of the supply
constexpr double kSenseLeast = 0.5;

/// What the fault is: of one cell, or of the box itself.
struct BoxFault {
  int cell = kNone;
  BenchFault of_cell;
  BenchFault at_box;  // its leak alone counts
  double contact_ohm = 0.0;
  double supply_factor = 1.0;
  double sense_factor = 1.0;
};

/// One cell about its papers' values: Y = still + strain * slope + pads * pad_slope.
struct LinearCell {
  BenchCell bench;
  FivePole still;
  FivePole slope;
  FivePole pad_slope;
  double load_V_per_V = 0.0;
};

LinearCell linear_cell(const WiredCell& wired, double force_N) {
  LinearCell cell;
  cell.bench.output_ohm = wired.output_ohm;
  cell.bench.pads_ohm = wired.input_ohm - wired.output_ohm;
  cell.bench.supply_lead_ohm = wired.lead_ohm + wired.supply_trim_ohm / 2.0;
  cell.bench.signal_lead_ohm = wired.lead_ohm + wired.signal_trim_ohm / 2.0;
  cell.bench.zero_V_per_V = wired.zero_V_per_V;
  cell.bench.load_V_per_V = wired.output_V_per_V * force_N / wired.rated_N;
  cell.bench.insulation_ohm = kNoLeak_ohm;
  const double strain = 1e-3;
  const double pads_ohm = 1e-3 * wired.output_ohm;
  cell.still = bench_admittance(cell.bench, {}, 0.0);
  cell.slope =
      (bench_admittance(cell.bench, {}, strain) - bench_admittance(cell.bench, {}, -strain)) /
      (2.0 * strain);
  BenchCell more = cell.bench;
  more.pads_ohm += pads_ohm;
  cell.pad_slope = (bench_admittance(more, {}, 0.0) - cell.still) / pads_ohm;
  return cell;
}

class BoxModel {
 public:
  BoxModel(const BoxPrior& prior, double meter_ohm) : prior_(prior), meter_ohm_(meter_ohm) {
    for (std::size_t c = 0; c < prior.wiring.cells.size(); ++c) {
      cells_.push_back(
          linear_cell(prior.wiring.cells[c], prior.dead_N(static_cast<Eigen::Index>(c))));
    }
  }

  [[nodiscard]] int cells() const { return static_cast<int>(cells_.size()); }
  [[nodiscard]] double output_ohm(int cell) const {
    return cells_[static_cast<std::size_t>(cell)].bench.output_ohm;
  }

  [[nodiscard]] Readings readings(const Eigen::VectorXd& p, const BoxFault& fault) const {
    const FivePole unloaded = seen(p, fault, 0.0);
    const FivePole loaded = seen(p, fault, 1.0 + prior_.total_share * p(3));
    const double source_V =
        prior_.wiring.supply_V * (1.0 + prior_.supply_spread * p(4)) * fault.supply_factor;
    Readings readings =
        pole_readings(unloaded, loaded, 1.0, fault.at_box.body_on_minus, meter_ohm_);
    const double input_ohm = readings[static_cast<std::size_t>(Quantity::input)];
    const double box_V =
        source_V * input_ohm / (input_ohm + 2.0 * prior_.wiring.home_ohm + fault.contact_ohm);
    for (const Quantity quantity : {Quantity::zero, Quantity::signal, Quantity::excitation}) {
      readings[static_cast<std::size_t>(quantity)] *= box_V;
    }
    readings[static_cast<std::size_t>(Quantity::sense)] =
        (prior_.wiring.sensed ? box_V : source_V) * fault.sense_factor;
    return readings;
  }

 private:
  /// Everything behind the first box's terminals. @param load  factor of the expected forces
  [[nodiscard]] FivePole seen(const Eigen::VectorXd& p, const BoxFault& fault, double load) const {
    const auto boxes = prior_.wiring.boxes.size();
    std::vector<FivePole> poles(boxes, FivePole::Zero());
    for (int c = 0; c < cells(); ++c) {
      const int box = prior_.wiring.cells[static_cast<std::size_t>(c)].box;
      poles[static_cast<std::size_t>(box)] += cell_pole(c, p, fault, load);
    }
    for (std::size_t b = boxes; b-- > 1;) poles[b - 1] += behind_link(poles[b], b);
    FivePole all = poles.front() / std::exp(prior_.output_spread * p(0));
    const double insulation_ohm =
        kInsulation_ohm / cells() * std::pow(10.0, kInsulationDecades * p(5));
    join(all, supply_minus, kBody, 1.0 / insulation_ohm);
    if (fault.at_box.body_leak_ohm > 0.0) {
      join(all, supply_minus, kBody, 1.0 / fault.at_box.body_leak_ohm);
    }
    if (fault.at_box.leak_from != kNone) {
      join(all, fault.at_box.leak_from, fault.at_box.leak_to, 1.0 / fault.at_box.leak_ohm);
    }
    return all;
  }

  [[nodiscard]] FivePole cell_pole(int cell,
                                   const Eigen::VectorXd& p,
                                   const BoxFault& fault,
                                   double load) const {
    const LinearCell& own = cells_[static_cast<std::size_t>(cell)];
    const double rated_V_per_V = prior_.wiring.cells[static_cast<std::size_t>(cell)].output_V_per_V;
    // Zeros of many cells: their mean moves by the root of their number less.
    const double zero =
        own.bench.zero_V_per_V + prior_.zero_spread * rated_V_per_V / std::sqrt(cells()) * p(2);
    if (cell == fault.cell) {
      const double strain = zero + fault.of_cell.zero_shift_V_per_V +
                            own.bench.load_V_per_V * load * fault.of_cell.output_factor;
      return bench_admittance(own.bench, fault.of_cell, strain);
    }
    return own.still + (zero + own.bench.load_V_per_V * load) * own.slope +
           prior_.pads_spread * own.bench.output_ohm * p(1) * own.pad_slope;
  }

  [[nodiscard]] FivePole behind_link(const FivePole& pole, std::size_t box) const {
    const double ohm = prior_.wiring.boxes[box].link_ohm;
    Eigen::Matrix<double, 5, 1> series;
    series << ohm, ohm, ohm, ohm, 0.0;
    const FivePole system = FivePole::Identity() + series.asDiagonal() * pole;
    return pole * system.inverse();
  }

  BoxPrior prior_;
  double meter_ohm_;
  std::vector<LinearCell> cells_;
};

using Model = std::shared_ptr<const BoxModel>;
using Make = std::function<BoxFault(const Eigen::VectorXd& parameters)>;

Explanation explanation(const Model& model,
                        std::string code,
                        std::string detail,
                        double weight,
                        int own,
                        const Make& make) {
  Explanation one;
  one.code = std::move(code);
  one.detail = std::move(detail);
  one.weight = weight;
  one.parameters = kCommon + own;
  one.own = own;
  one.predict = [model, make](const Eigen::VectorXd& p) { return model->readings(p, make(p)); };
  return one;
}

void add_own_faults(const Model& model, std::vector<Explanation>& all) {
  all.push_back(explanation(model, "sound", "", kSound, 0,
                            [](const Eigen::VectorXd&) { return BoxFault{}; }));
  all.push_back(
      explanation(model, "broken_sense_lead", "", kBrokenSense, 1, [](const Eigen::VectorXd& p) {
        BoxFault fault;
        fault.sense_factor = std::clamp(kSenseMiddle + kSenseSpread * p(kCommon), 0.0, kSenseMost);
        return fault;
      }));
  all.push_back(
      explanation(model, "sense_contact", "", kSenseContact, 1, [](const Eigen::VectorXd& p) {
        BoxFault fault;
        fault.sense_factor =
            std::max(1.0 - kSenseContactLoss * std::exp(kContactSpread * p(kCommon)), kSenseLeast);
        return fault;
      }));
  const Make contact = [](const Eigen::VectorXd& p) {
    BoxFault fault;
    fault.contact_ohm = kContactMedian_ohm * std::exp(kContactSpread * p(kCommon));
    return fault;
  };
  all.push_back(explanation(model, "supply_contact", "", kSupplyContact, 1, contact));
  all.back().fitted = [contact](const Eigen::VectorXd& p) {
    return std::vector<Fitted>{{"contact_ohm", contact(p).contact_ohm}};
  };
  all.push_back(explanation(model, "no_supply", "", kNoSupply, 0, [](const Eigen::VectorXd&) {
    BoxFault fault;
    fault.supply_factor = 0.0;
    return fault;
  }));
}

/// Leaks and touches at the box itself.
void add_leaks(const Model& model, const FaultKind& kind, std::vector<Explanation>& all) {
  const Make make = [kind](const Eigen::VectorXd& p) {
    BoxFault fault;
    fault.at_box = kind.make(p.data() + kCommon);
    return fault;
  };
  all.push_back(explanation(model, kind.code, kind.detail, kind.weight, kind.parameters, make));
  all.back().fitted = [kind, make](const Eigen::VectorXd& p) {
    return kind.fitted(make(p).at_box);
  };
}

bool is_measured(const std::vector<Diagnosis>& cells, int cell) {
  return std::ranges::any_of(
      cells, [&](const Diagnosis& one) { return one.stand == units::StandIndex{cell}; });
}

/// How much likelier a fault of a cell has become by measuring it alone.
double known_of(const std::vector<Diagnosis>& cells, int cell, const FaultKind& kind) {
  const auto at = std::ranges::find_if(
      cells, [&](const Diagnosis& one) { return one.stand == units::StandIndex{cell}; });
  if (at == cells.end()) return 1.0;
  for (const Cause& cause : at->causes) {
    if (cause.code == kind.code && cause.detail == kind.detail) {
      return cause.probability / kind.weight;
    }
  }
  return 1e-4 / kind.weight;  // what the list of causes leaves out
}

bool is_leak(const FaultKind& kind) {
  return kind.code == "moisture" || kind.code == "screen_on_core";
}

/// Left to measurements of the cell alone: hum, which a box shows no better, and a supply that is
/// not there, which is a broken lead here.
bool is_seen_at_box(const FaultKind& kind) {
  static constexpr std::array<double, 4> kMiddle{};
  return kind.code != "sound" && kind.code != "loose_screen" && kind.code != "no_load" &&
         kind.make(kMiddle.data()).supply_factor != 0.0;
}

void add_cell_faults(const Model& model,
                     const std::vector<Diagnosis>& cells,
                     std::vector<Explanation>& all) {
  for (int cell = 0; cell < model->cells(); ++cell) {
    for (const FaultKind& kind : cell_fault_kinds(model->output_ohm(cell))) {
      if (!is_seen_at_box(kind) || is_leak(kind)) continue;
      const Make make = [kind, cell](const Eigen::VectorXd& p) {
        BoxFault fault;
        fault.cell = cell;
        fault.of_cell = kind.make(p.data() + kCommon);
        return fault;
      };
      // One faulty cell in all: what is met of one cell is spread over those that there are.
      const double share = is_measured(cells, cell) ? 1.0 : 1.0 / model->cells();
      const double weight = kind.weight * known_of(cells, cell, kind) * share;
      all.push_back(explanation(model, kind.code, kind.detail, weight, kind.parameters, make));
      all.back().at = units::StandIndex{cell};
      all.back().fitted = [kind, make](const Eigen::VectorXd& p) {
        return kind.fitted(make(p).of_cell);
      };
    }
  }
}

}  // namespace

std::vector<Explanation> box_explanations(const BoxPrior& prior,
                                          const std::vector<Diagnosis>& cells,
                                          double meter_ohm) {
  const Model model = std::make_shared<const BoxModel>(prior, meter_ohm);
  std::vector<Explanation> all;
  add_own_faults(model, all);
  for (const FaultKind& kind : cell_fault_kinds(std::nullopt)) {
    if (is_leak(kind)) add_leaks(model, kind, all);
  }
  add_cell_faults(model, cells, all);
  return all;
}

}  // namespace weighwright::signal
