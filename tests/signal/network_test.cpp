#include "signal/network.h"

#include <gtest/gtest.h>

#include <stdexcept>

namespace weighwright::signal {
namespace {

enum Node { e_plus, e_minus, s_plus, s_minus, count };

ResistorNetwork bridge(double ohm) {
  ResistorNetwork network(count);
  network.add(e_plus, s_plus, ohm);
  network.add(e_plus, s_minus, ohm);
  network.add(e_minus, s_plus, ohm);
  network.add(e_minus, s_minus, ohm);
  return network;
}

// By hand: across a diagonal of four equal arms R, across one arm 3/4 R.
TEST(ResistorNetwork, MeasuresABalancedBridge) {
  const ResistorNetwork network = bridge(350.0);
  EXPECT_NEAR(network.resistance_ohm(e_plus, e_minus), 350.0, 1e-7);
  EXPECT_NEAR(network.resistance_ohm(s_minus, s_plus), 350.0, 1e-7);
  EXPECT_NEAR(network.resistance_ohm(e_plus, s_minus), 262.5, 1e-7);
}

// ngspice 39: one cell of 350 ohm at 10 V, 5 Mohm from S+ to E-: -0.174994 mV.
TEST(ResistorNetwork, ShowsALeakAsZeroShift) {
  ResistorNetwork network = bridge(350.0);
  network.add(s_plus, e_minus, 5e6);
  const Eigen::VectorXd volt = network.potentials_V(e_plus, e_minus, 10.0);
  EXPECT_NEAR(1e3 * (volt(s_plus) - volt(s_minus)), -0.174994, 5e-7);
}

// Unequal ladder, by hand: 10 V over 1 + 2 || (3 + 4) ohm: 2 || 7 = 14/9; 10 (14/9) / (23/9).
TEST(ResistorNetwork, DividesAsOhmSays) {
  ResistorNetwork network(4);
  network.add(0, 1, 1.0);
  network.add(1, 3, 2.0);
  network.add(1, 2, 3.0);
  network.add(2, 3, 4.0);
  const Eigen::VectorXd volt = network.potentials_V(0, 3, 10.0);
  EXPECT_NEAR(volt(1), 140.0 / 23.0, 1e-10);
  EXPECT_NEAR(volt(2), 140.0 / 23.0 * 4.0 / 7.0, 1e-10);
  EXPECT_NEAR(network.resistance_ohm(0, 3), 1.0 + 14.0 / 9.0, 1e-10);
}

TEST(ResistorNetwork, FindsNothingBetweenWhatIsNotJoined) {
  ResistorNetwork network(3);
  network.add(0, 1, 5.0);
  EXPECT_GT(network.resistance_ohm(0, 2), 1e12);
  EXPECT_NEAR(network.resistance_ohm(0, 1), 5.0, 1e-9);
}

TEST(ResistorNetwork, RefusesWhatIsNoResistor) {
  ResistorNetwork network(2);
  EXPECT_THROW(network.add(0, 1, 0.0), std::invalid_argument);
  EXPECT_THROW(network.add(0, 2, 1.0), std::invalid_argument);
  EXPECT_THROW((void)network.resistance_ohm(0, 5), std::invalid_argument);
}

}  // namespace
}  // namespace weighwright::signal
