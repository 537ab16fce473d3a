/// Worked circuits: figures of ngspice 39 (`.op`; our own netlists), and Millman's theorem by hand.
/// Cells of 25 t, 2.000 mV/V, at 10 V.

#include "signal/circuit.h"

#include <gtest/gtest.h>

#include <stdexcept>

#include "signal/conductor.h"
#include "signal/network.h"
#include "signal/wirings.h"

namespace weighwright::signal::tests {
namespace {

const Eigen::VectorXd kFour = kilonewtons({100, 80, 60, 40});
const Eigen::VectorXd kSix = kilonewtons({13.3, 13.3, 25, 25, 13.3, 13.3});
const Eigen::VectorXd kEight = kilonewtons({13.3, 13.3, 25, 25, 25, 25, 13.3, 13.3});

double output_mV(const Wiring& wiring, const Eigen::VectorXd& forces_N) {
  return 1e3 * solve(wiring, forces_N).output_V;
}

/// Sum of V / R over sum of 1 / R, with V each cell's signal at its own supply.
double millman_mV(const Wiring& wiring, const Eigen::VectorXd& forces_N) {
  double current = 0.0;
  double conductance = 0.0;
  for (std::size_t i = 0; i < wiring.cells.size(); ++i) {
    const WiredCell& cell = wiring.cells[i];
    const double supply_V =
        wiring.supply_V * cell.input_ohm / (cell.input_ohm + cell.supply_trim_ohm);
    const double ohm = cell.output_ohm + cell.signal_trim_ohm;
    current += cell.output_V_per_V * supply_V * forces_N(static_cast<Eigen::Index>(i)) /
               cell.rated_N / ohm;
    conductance += 1.0 / ohm;
  }
  return 1e3 * current / conductance / (1.0 + 1.0 / (conductance * wiring.indicator_ohm));
}

Wiring on_trunk(int cells, double input_ohm, double output_ohm, double degC = 20.0) {
  Wiring wiring = equal_cells(cells, input_ohm, output_ohm);
  wiring.home_ohm = core_ohm(30.0, 0.5e-6, degC);
  return wiring;
}

TEST(ParallelCells, GiveTheMeanOfEqualCells) {
  const Wiring wiring = equal_cells(4, 385, 350);
  EXPECT_NEAR(output_mV(wiring, kFour), 5.710411, 5e-7);
  EXPECT_NEAR(1e3 * solve(wiring, kFour).supply_A, 103.896, 5e-4);
  EXPECT_NEAR(millman_mV(wiring, kFour), 5.710411, 5e-7);
  EXPECT_NEAR(output_mV(equal_cells(6, 775, 700), kSix), 1.4031295, 5e-8);
  EXPECT_NEAR(output_mV(equal_cells(8, 1100, 1000), kEight), 1.5622052, 5e-8);
  EXPECT_NEAR(1e3 * solve(equal_cells(8, 1100, 1000), kEight).supply_A, 72.727, 5e-4);
}

TEST(ParallelCells, MixByConductance) {
  Wiring wiring = equal_cells(4, 385, 350);
  wiring.cells[1].output_ohm = 351;
  wiring.cells[2].output_ohm = 349.5;
  wiring.cells[3].output_ohm = 352;
  EXPECT_NEAR(output_mV(wiring, kFour), 5.713019, 5e-7);
  EXPECT_NEAR(millman_mV(wiring, kFour), 5.713019, 5e-7);
}

TEST(Trims, InSignalLeadsTakeFromOneAndGiveToTheOthers) {
  Wiring wiring = equal_cells(4, 385, 350);
  wiring.cells[0].signal_trim_ohm = 10;
  EXPECT_NEAR(output_mV(wiring, kFour), 5.693297, 5e-7);
  EXPECT_NEAR(millman_mV(wiring, kFour), 5.693297, 5e-7);
  // By hand, weights of Millman: 360 against three of 350 ohm: 0.244755, others 0.251748.
  const Eigen::VectorXd gains = gains_per_N(wiring, Eigen::VectorXd::Zero(4));
  const double whole = 2e-3 / kRated25t_N;
  EXPECT_NEAR(gains(0) / whole, 0.244755, 5e-7);
  EXPECT_NEAR(gains(1) / whole, 0.251748, 5e-7);
}

TEST(Trims, InSupplyLeadsTakeFromOneOnly) {
  Wiring wiring = equal_cells(4, 385, 350);
  wiring.cells[0].supply_trim_ohm = 10;
  EXPECT_NEAR(output_mV(wiring, kFour), 5.658780, 5e-7);
  EXPECT_NEAR(1e3 * solve(wiring, kFour).supply_A, 103.239, 5e-4);
  EXPECT_NEAR(millman_mV(wiring, kFour), 5.658780, 5e-7);
}

TEST(IndicatorInput, LoadsTheSignal) {
  Wiring wiring = equal_cells(4, 385, 350);
  wiring.indicator_ohm = 100e3;
  EXPECT_NEAR(output_mV(wiring, kFour), 5.705419, 5e-7);
  EXPECT_NEAR(millman_mV(wiring, kFour), 5.705419, 5e-7);
}

/// Four cells of 385/350 ohm paralleled, as plain resistors: nodes 0 to 3 are E+, E-, S+, S-.
ResistorNetwork four_cells(const Eigen::VectorXd& forces_N, double in_one_supply_lead_ohm) {
  ResistorNetwork network(12);
  for (int c = 0; c < 4; ++c) {
    const int plus = 4 + 2 * c;
    const double x = 2e-3 * forces_N(c) / kRated25t_N * 385.0 / 350.0;
    network.add(0, plus, 17.5 + (c == 0 ? in_one_supply_lead_ohm : 0.0));
    network.add(1, plus + 1, 17.5);
    network.add(plus, 2, 350.0 * (1 - x));
    network.add(plus, 3, 350.0 * (1 + x));
    network.add(plus + 1, 2, 350.0 * (1 + x));
    network.add(plus + 1, 3, 350.0 * (1 - x));
  }
  return network;
}

// A trim in one supply lead alone has 1.9 % less effect; a leak of 5 Mohm from S+ to E-.
TEST(PlainNetwork, AgreesWithNgspiceWhereNoFormulaIsSimple) {
  const Eigen::VectorXd lopsided = four_cells(kFour, 10.0).potentials_V(0, 1, 10.0);
  EXPECT_NEAR(1e3 * (lopsided(2) - lopsided(3)), 5.659742, 5e-7);
  ResistorNetwork leaking = four_cells(Eigen::VectorXd::Zero(4), 0.0);
  leaking.add(2, 1, 5e6);
  const Eigen::VectorXd shifted = leaking.potentials_V(0, 1, 10.0);
  EXPECT_NEAR(1e3 * (shifted(2) - shifted(3)), -0.043750, 5e-7);
}

TEST(HomeCable, OfFourWiresDividesTheSupply) {
  const Wiring wiring = on_trunk(6, 775, 700);
  EXPECT_NEAR(output_mV(wiring, kSix), 1.3781625, 5e-8);
  EXPECT_NEAR(solve(wiring, kSix).box_V, 9.822062, 5e-7);
  EXPECT_NEAR(solve(wiring, kSix).box_V / 10.0, 0.982206, 5e-7);
}

TEST(HomeCable, OfFourWiresGoesWithTemperature) {
  const double at_20 = output_mV(on_trunk(6, 775, 700), kSix);
  EXPECT_NEAR(1e6 * (output_mV(on_trunk(6, 775, 700, -15), kSix) / at_20 - 1), 2453.5, 0.05);
  EXPECT_NEAR(1e6 * (output_mV(on_trunk(6, 775, 700, 40), kSix) / at_20 - 1), -1396.6, 0.05);
}

TEST(HomeCable, CostsLowResistanceCellsMost) {
  const struct {
    double input_ohm, output_ohm, mV, drop_percent, ppm_per_K;
  } rows[] = {{385, 350, 1.4897677, 4.6369, -182.2},
              {775, 700, 1.5253604, 2.3585, -92.7},
              {1100, 1000, 1.5360642, 1.6733, -65.8}};
  for (const auto& row : rows) {
    const Wiring wiring = on_trunk(8, row.input_ohm, row.output_ohm);
    EXPECT_NEAR(output_mV(wiring, kEight), row.mV, 5e-8);
    EXPECT_NEAR(100.0 * (1.0 - solve(wiring, kEight).box_V / 10.0), row.drop_percent, 5e-5);
    const double warm = output_mV(on_trunk(8, row.input_ohm, row.output_ohm, 20.5), kEight);
    const double cold = output_mV(on_trunk(8, row.input_ohm, row.output_ohm, 19.5), kEight);
    EXPECT_NEAR(1e6 * (warm - cold) / row.mV, row.ppm_per_K, 0.05);
  }
}

TEST(HomeCable, OfSixWiresLeavesTheReading) {
  Wiring wiring = on_trunk(6, 775, 700);
  wiring.sensed = true;
  // Case 7 over its 10 V supply: what the indicator would see without any cable.
  EXPECT_NEAR(1e3 * solve(wiring, kSix).reading_V_per_V, 0.14031295, 5e-9);
}

TEST(CellLeads, OfFourWiresCostEachCell) {
  const struct {
    double input_ohm, output_ohm, mV, ppm;
  } rows[] = {{385, 350, 1.5590467, -2021.9},
              {775, 700, 1.5606345, -1005.4},
              {1100, 1000, 1.5610983, -708.6}};
  for (const auto& row : rows) {
    Wiring wiring = equal_cells(8, row.input_ohm, row.output_ohm);
    const double without_mV = output_mV(wiring, kEight);
    for (WiredCell& cell : wiring.cells) cell.lead_ohm = core_ohm(10.0, 0.5e-6, 20.0);
    EXPECT_NEAR(output_mV(wiring, kEight), row.mV, 5e-8);
    EXPECT_NEAR(1e6 * (output_mV(wiring, kEight) / without_mV - 1), row.ppm, 0.05);
    EXPECT_NEAR(solve(wiring, kEight).cell_V[3], 10.0 * (1.0 + row.ppm * 1e-6), 1e-6);
  }
}

TEST(Circuit, RefusesWhatDoesNotFit) {
  Wiring wiring = equal_cells(2, 385, 350);
  EXPECT_THROW((void)solve(wiring, kilonewtons({1})), std::invalid_argument);
  wiring.cells[1].lead_ohm = -1;
  EXPECT_THROW((void)solve(wiring, kilonewtons({1, 2})), std::invalid_argument);
  wiring.cells[1].lead_ohm = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW((void)gains_per_N(wiring, kilonewtons({1, 2})), std::invalid_argument);
  wiring.cells[1].lead_ohm = 0;
  wiring.cells[1].box = 1;
  EXPECT_THROW((void)solve(wiring, kilonewtons({1, 2})), std::invalid_argument);
  EXPECT_THROW((void)solve(Wiring{}, Eigen::VectorXd()), std::invalid_argument);
}

}  // namespace
}  // namespace weighwright::signal::tests
