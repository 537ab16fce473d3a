/// Laws of any such circuit, on random ones.

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include "signal/circuit.h"

namespace weighwright::signal::tests {
namespace {

/// A number between two, from rapidcheck (which prints its seed).
double between(double low, double high) {
  return low + (high - low) * *rc::gen::inRange(0, 1000001) / 1e6;
}

WiredCell random_cell(int boxes) {
  static constexpr double kOutput_ohm[] = {350, 700, 1000};
  WiredCell cell;
  cell.rated_N = between(1e5, 5e5);
  cell.output_V_per_V = between(1e-3, 3e-3);
  cell.zero_V_per_V = between(-2e-5, 2e-5);
  cell.output_ohm = kOutput_ohm[*rc::gen::inRange(0, 3)] * between(0.99, 1.01);
  cell.input_ohm = cell.output_ohm * between(0.95, 1.2);
  cell.lead_ohm = between(0, 1);
  cell.signal_trim_ohm = between(0, 10);
  cell.supply_trim_ohm = between(0, 10);
  cell.box = *rc::gen::inRange(0, boxes);
  return cell;
}

Wiring random_wiring() {
  Wiring wiring;
  const int boxes = *rc::gen::inRange(1, 4);
  for (int b = 0; b < boxes; ++b) wiring.boxes.push_back({b == 0 ? 0.0 : between(0, 2)});
  const int cells = *rc::gen::inRange(1, 25);
  for (int c = 0; c < cells; ++c) wiring.cells.push_back(random_cell(boxes));
  wiring.home_ohm = between(0, 4);
  wiring.sensed = *rc::gen::arbitrary<bool>();
  wiring.supply_V = between(3, 15);
  if (*rc::gen::arbitrary<bool>()) wiring.indicator_ohm = between(1e5, 1e7);
  return wiring;
}

Eigen::VectorXd random_forces(const Wiring& wiring) {
  Eigen::VectorXd force_N(static_cast<Eigen::Index>(wiring.cells.size()));
  for (double& force : force_N) force = between(-1e4, 1e5);
  return force_N;
}

double reading(const Wiring& wiring, const Eigen::VectorXd& force_N) {
  return solve(wiring, force_N).reading_V_per_V;
}

RC_GTEST_PROP(Gains, AreTheSlopeOfTheReading, ()) {
  const Wiring wiring = random_wiring();
  const Eigen::VectorXd force_N = random_forces(wiring);
  const Eigen::VectorXd gains = gains_per_N(wiring, force_N);
  const double largest = gains.cwiseAbs().maxCoeff();
  for (Eigen::Index c = 0; c < gains.size(); ++c) {
    // A bridge is straight to 1e-5 over a tenth of its range; 1e-12 V/V of rounding over the step.
    const double step_N = 1e4;
    Eigen::VectorXd more = force_N;
    Eigen::VectorXd less = force_N;
    more(c) += step_N;
    less(c) -= step_N;
    const double slope = (reading(wiring, more) - reading(wiring, less)) / (2.0 * step_N);
    RC_ASSERT(std::abs(gains(c) - slope) < 2e-6 * largest);
  }
}

// With equal forces off and on, what each cell adds sums up: arms change by 1e-3, so that products
// of two cells' changes are of the order 1e-6 of a reading.
RC_GTEST_PROP(Readings, AddUp, ()) {
  const Wiring wiring = random_wiring();
  const Eigen::VectorXd force_N = random_forces(wiring);
  const Eigen::VectorXd nothing = Eigen::VectorXd::Zero(force_N.size());
  const double zero = reading(wiring, nothing);
  double sum = 0.0;
  double size = 0.0;
  for (Eigen::Index c = 0; c < force_N.size(); ++c) {
    Eigen::VectorXd one = nothing;
    one(c) = force_N(c);
    const double part = reading(wiring, one) - zero;
    sum += part;
    size += std::abs(part);
  }
  RC_ASSERT(std::abs(reading(wiring, force_N) - zero - sum) < 1e-4 * size);
}

RC_GTEST_PROP(Readings, DoNotKnowTheSupply, ()) {
  Wiring wiring = random_wiring();
  const Eigen::VectorXd force_N = random_forces(wiring);
  const double before = reading(wiring, force_N);
  wiring.supply_V *= 0.37;
  RC_ASSERT(std::abs(reading(wiring, force_N) - before) < 1e-12);
}

// A common factor on every resistance changes no voltage.
RC_GTEST_PROP(Readings, KnowOnlyRatiosOfResistances, ()) {
  Wiring wiring = random_wiring();
  const Eigen::VectorXd force_N = random_forces(wiring);
  const double before = reading(wiring, force_N);
  const double factor = between(0.2, 5.0);
  wiring.home_ohm *= factor;
  wiring.indicator_ohm *= factor;
  for (WiredBox& box : wiring.boxes) box.link_ohm *= factor;
  for (WiredCell& cell : wiring.cells) {
    for (double* ohm : {&cell.input_ohm, &cell.output_ohm, &cell.lead_ohm, &cell.signal_trim_ohm,
                        &cell.supply_trim_ohm}) {
      *ohm *= factor;
    }
  }
  RC_ASSERT(std::abs(reading(wiring, force_N) - before) < 1e-12);
}

RC_GTEST_PROP(Readings, DoNotKnowTheOrderOfCells, ()) {
  Wiring wiring = random_wiring();
  Eigen::VectorXd force_N = random_forces(wiring);
  const double before = reading(wiring, force_N);
  std::reverse(wiring.cells.begin(), wiring.cells.end());
  RC_ASSERT(std::abs(reading(wiring, force_N.reverse()) - before) < 1e-12);
}

RC_GTEST_PROP(Current, IsNeverLessThanTheCellsTake, ()) {
  const Wiring wiring = random_wiring();
  const Solved solved = solve(wiring, random_forces(wiring));
  RC_ASSERT(solved.supply_A > 0.0);
  RC_ASSERT(solved.box_V <= wiring.supply_V * (1.0 + 1e-12));
  for (double cell_V : solved.cell_V)
    RC_ASSERT(cell_V > 0.0 && cell_V <= solved.box_V * (1 + 1e-12));
}

}  // namespace
}  // namespace weighwright::signal::tests
