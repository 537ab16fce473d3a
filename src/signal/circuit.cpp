#include "signal/circuit.h"

#include <Eigen/LU>
#include <array>
#include <cmath>
#include <stdexcept>
#include <string>

#include "signal/cell_pole.h"

namespace weighwright::signal {
namespace {

using Pair = Eigen::Vector2d;  // S+, S-

struct BoxPole {
  FourMatrix admittance;  // all that hangs on this box: its cells and the boxes behind it
  FourMatrix inward;      // voltages at this box for those before its cable
};

bool is_resistance(double ohm) {
  return std::isfinite(ohm) && ohm >= 0.0;
}

void require(bool fits, const std::string& what) {
  if (!fits) throw std::invalid_argument("circuit: " + what);
}

void check(const Wiring& wiring, const Eigen::VectorXd& force_N) {
  require(!wiring.cells.empty() && !wiring.boxes.empty(), "needs a cell and a box");
  require(force_N.size() == static_cast<Eigen::Index>(wiring.cells.size()), "one force a cell");
  require(force_N.allFinite(), "a force is not finite");
  require(is_resistance(wiring.home_ohm), "home cable's resistance must be 0 or more");
  require(wiring.indicator_ohm > 0.0, "indicator's input resistance must be more than 0");
  require(std::isfinite(wiring.supply_V), "supply is not finite");
  for (const WiredBox& box : wiring.boxes) {
    require(is_resistance(box.link_ohm), "link cable's resistance must be 0 or more");
  }
  for (const WiredCell& cell : wiring.cells) {
    require(cell.rated_N > 0.0 && std::isfinite(cell.rated_N), "rated force must be more than 0");
    require(cell.input_ohm > 0.0 && std::isfinite(cell.input_ohm) && cell.output_ohm > 0.0 &&
                std::isfinite(cell.output_ohm),
            "a cell's resistances must be more than 0");
    require(is_resistance(cell.lead_ohm) && is_resistance(cell.signal_trim_ohm) &&
                is_resistance(cell.supply_trim_ohm),
            "leads and trims must be 0 ohm or more");
    require(cell.box >= 0 && cell.box < static_cast<int>(wiring.boxes.size()), "no such box");
  }
}

/// The whole network with its voltages at the indicator.
class Network {
 public:
  Network(const Wiring& wiring, const Eigen::VectorXd& force_N) : wiring_(wiring) {
    check(wiring, force_N);
    for (std::size_t c = 0; c < wiring.cells.size(); ++c) {
      cells_.push_back(condense(wiring.cells[c], force_N(static_cast<Eigen::Index>(c))));
    }
    condense_boxes();
    solve_indicator();
  }

  [[nodiscard]] Solved solved() const {
    Solved result;
    const std::vector<FourVector> boxes_V = spread(boxes_.front().inward * indicator_V_);
    result.output_V = indicator_V_(signal_plus) - indicator_V_(signal_minus);
    result.supply_A = (admittance_ * indicator_V_)(supply_plus);
    result.box_V = boxes_V.front()(supply_plus) - boxes_V.front()(supply_minus);
    result.reading_V_per_V = result.output_V / known_supply_V(result);
    for (std::size_t c = 0; c < cells_.size(); ++c) {
      const FourVector& at_box_V = boxes_V[static_cast<std::size_t>(wiring_.cells[c].box)];
      const FourVector current_A = cells_[c].admittance * at_box_V;
      const FourVector at_cell_V = at_box_V - cells_[c].before_ohm * current_A;
      result.cell_V.push_back(at_cell_V(supply_plus) - at_cell_V(supply_minus));
    }
    return result;
  }

  [[nodiscard]] Eigen::VectorXd gains_per_N() const {
    const Solved result = solved();
    const double known_V = known_supply_V(result);
    // d(output / known): output falls as its own adjoint says, known only where it is measured.
    const FourVector adjoint = adjoint_of_output() / known_V -
                               (wiring_.sensed ? adjoint_of_box() : FourVector::Zero().eval()) *
                                   (result.output_V / (known_V * known_V));
    const std::vector<FourVector> adjoint_V = spread(adjoint);
    const std::vector<FourVector> boxes_V = spread(boxes_.front().inward * indicator_V_);
    Eigen::VectorXd gains(static_cast<Eigen::Index>(cells_.size()));
    for (std::size_t c = 0; c < cells_.size(); ++c) {
      const CellPole& cell = cells_[c];
      const auto box = static_cast<std::size_t>(wiring_.cells[c].box);
      const FourVector left = cell.inward * adjoint_V[box];
      const FourVector right = cell.inward * boxes_V[box];
      gains(static_cast<Eigen::Index>(c)) = -left.dot(cell.slope * right);
    }
    return gains;
  }

 private:
  [[nodiscard]] double known_supply_V(const Solved& result) const {
    return wiring_.sensed ? result.box_V : wiring_.supply_V;
  }

  /// From the last box to the first: each takes in what hangs behind it.
  void condense_boxes() {
    boxes_.resize(wiring_.boxes.size());
    for (BoxPole& box : boxes_) box.admittance = FourMatrix::Zero();
    for (std::size_t c = 0; c < cells_.size(); ++c) {
      boxes_[static_cast<std::size_t>(wiring_.cells[c].box)].admittance += cells_[c].admittance;
    }
    for (std::size_t b = boxes_.size(); b-- > 0;) {
      const double cable_ohm = b == 0 ? wiring_.home_ohm : wiring_.boxes[b].link_ohm;
      boxes_[b].inward = behind_series(boxes_[b].admittance, FourVector::Constant(cable_ohm));
      const FourMatrix seen = boxes_[b].admittance * boxes_[b].inward;
      (b == 0 ? admittance_ : boxes_[b - 1].admittance) += seen;
    }
  }

  void solve_indicator() {
    const double conductance = 1.0 / wiring_.indicator_ohm;  // 0 for an open input
    Eigen::Matrix2d signal = admittance_.bottomRightCorner<2, 2>();
    signal +=
        (Eigen::Matrix2d() << conductance, -conductance, -conductance, conductance).finished();
    signal_ohm_ = signal.inverse();
    const Pair supply(wiring_.supply_V, 0.0);
    const Pair at_signal = -signal_ohm_ * (admittance_.bottomLeftCorner<2, 2>() * supply);
    indicator_V_ << supply, at_signal;
  }

  /// Voltages at every box for those at the first: given as they are there.
  [[nodiscard]] std::vector<FourVector> spread(const FourVector& first) const {
    std::vector<FourVector> all = {first};
    for (std::size_t b = 1; b < boxes_.size(); ++b) all.push_back(boxes_[b].inward * all.back());
    return all;
  }

  /// Adjoint potentials at the first box: the supply shorted, 1 A fed where the result is read.
  /// d(result) = -adjoint' dY v. For the output the current enters at the indicator.
  [[nodiscard]] FourVector adjoint_of_output() const {
    return boxes_.front().inward * from_signal(Pair(1.0, -1.0));
  }

  /// For the supply at the box it enters at the box: straight through the cable to the shorted
  /// supply, and by what reaches the signal input.
  [[nodiscard]] FourVector adjoint_of_box() const {
    const FourVector read(1.0, -1.0, 0.0, 0.0);
    const FourVector outward = boxes_.front().inward.transpose() * read;
    const FourVector through = wiring_.home_ohm * outward;
    return boxes_.front().inward * from_signal(outward.tail<2>()) + through;
  }

  [[nodiscard]] FourVector from_signal(const Pair& current) const {
    FourVector potential = FourVector::Zero();
    potential.tail<2>() = signal_ohm_ * current;
    return potential;
  }

  const Wiring& wiring_;
  std::vector<CellPole> cells_;
  std::vector<BoxPole> boxes_;
  FourMatrix admittance_ = FourMatrix::Zero();  // all, seen from the indicator
  Eigen::Matrix2d signal_ohm_;                  // of the signal input, supply shorted
  FourVector indicator_V_;
};

}  // namespace

Solved solve(const Wiring& wiring, const Eigen::VectorXd& force_N) {
  return Network(wiring, force_N).solved();
}

Eigen::VectorXd gains_per_N(const Wiring& wiring, const Eigen::VectorXd& force_N) {
  return Network(wiring, force_N).gains_per_N();
}

}  // namespace weighwright::signal
