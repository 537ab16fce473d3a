#include "trim/elements.h"

#include <gtest/gtest.h>

#include <cmath>

#include "shifts.h"
#include "signal/circuit.h"

// outside check: what trims do to everybody | the whole circuit by nodal analysis; Millman by hand

namespace weighwright::trim {
namespace {

using Eigen::VectorXd;
using tests::bridge;

/// ln of the change of every cell's weight in the whole circuit when trims are set, less the mean.
VectorXd by_the_circuit(const deck::Deck& deck,
                        const VectorXd& signal_ohm,
                        const VectorXd& supply_ohm) {
  const VectorXd force = VectorXd::Constant(8, 20000.0);
  signal::Wiring wiring = signal::wire(deck, 20.0, nullptr);
  const VectorXd before = signal::gains_per_N(wiring, force);
  for (Eigen::Index i = 0; i < 8; ++i) {
    wiring.cells[static_cast<std::size_t>(i)].signal_trim_ohm = signal_ohm(i);
    wiring.cells[static_cast<std::size_t>(i)].supply_trim_ohm = supply_ohm(i);
  }
  const VectorXd after = signal::gains_per_N(wiring, force);
  return (after.array() / before.array()).log().matrix();
}

VectorXd effects_of(const std::vector<Element>& elements, const VectorXd& ohm) {
  VectorXd effects(ohm.size());
  for (Eigen::Index k = 0; k < ohm.size(); ++k) {
    effects(k) = effect_of_ohm(elements[static_cast<std::size_t>(k)], ohm(k));
  }
  return effects;
}

const VectorXd kOhm = Eigen::Map<const Eigen::Matrix<double, 8, 1>>(
    std::array{0.0, 1.5, 4.0, 0.5, 2.5, 0.0, 7.0, 3.0}.data());

// The closed forms (Millman) against the whole network by nodal analysis, which is held against
// ngspice in tests/signal.
TEST(SignalTrims, DoWhatTheWholeCircuitSays) {
  const deck::Deck deck = bridge("signal");
  const std::vector<Element> elements = elements_of(deck);
  ASSERT_EQ(elements.size(), 8U);
  const VectorXd closed = log_factors(elements, effects_of(elements, kOhm), 8);
  const VectorXd circuit = by_the_circuit(deck, kOhm, VectorXd::Zero(8));
  EXPECT_LT((closed - circuit).cwiseAbs().maxCoeff(), 1e-6);
}

TEST(SupplyTrims, DoWhatTheWholeCircuitSays) {
  const deck::Deck deck = bridge("excitation");
  const std::vector<Element> elements = elements_of(deck);
  const VectorXd closed = log_factors(elements, effects_of(elements, kOhm), 8);
  const VectorXd circuit = by_the_circuit(deck, VectorXd::Zero(8), kOhm);
  EXPECT_LT((closed - circuit).cwiseAbs().maxCoeff(), 1e-6);
}

// Worked check of a 4 x 350 ohm box: 10 ohm in the signal leads of one cell change its part from a
// quarter to 0.244755 and the others' to 0.251748 (by hand, Millman).
TEST(SignalTrims, ShareTheirLossAmongTheOthersAsWorkedOutByHand) {
  deck::Deck deck;
  deck.stands.resize(4);
  deck.sections.resize(2);
  for (deck::Stand& stand : deck.stands) stand.cell.output_ohm = 350.0;
  deck.boxes = {{.stands = {}, .trims = "signal"}};
  const std::vector<Element> elements = elements_of(deck);
  const VectorXd factors = log_factors(
      elements, effects_of(elements, (VectorXd(4) << 10.0, 0.0, 0.0, 0.0).finished()), 4);
  EXPECT_NEAR(std::exp(factors(0)) * 0.25, 0.244755, 5e-7);
  EXPECT_NEAR(std::exp(factors(1)) * 0.25, 0.251748, 5e-7);
}

TEST(Elements, FollowTheBoxes) {
  deck::Deck deck = bridge("none");
  EXPECT_TRUE(elements_of(deck).empty());
  deck.boxes = {{.stands = {{0}, {1}, {2}, {3}}, .trims = "signal"},
                {.stands = {{4}, {5}, {6}, {7}}, .trims = "section"}};
  const std::vector<Element> elements = elements_of(deck);
  ASSERT_EQ(elements.size(), 6U);
  EXPECT_EQ(print(elements[0].place), "1L");
  EXPECT_EQ(print(elements[5].place), "4");
  EXPECT_EQ(elements[5].stands.size(), 2U);
}

TEST(Elements, KnowWhatATurnIsWorthFromTheirPapers) {
  deck::Deck deck = bridge("signal");
  deck.trimming.range_ohm = 10.0;
  deck.trimming.turns = 20.0;
  EXPECT_FALSE(elements_of(deck)[0].per_turn);
  // By hand: 10 ohm on 700 ohm in 20 turns, ln(710 / 700) / 20 = 7.09e-4.
  EXPECT_NEAR(*elements_of(deck)[0].size_per_turn, std::log(710.0 / 700.0) / 20.0, 1e-15);
  deck.trimming.clockwise_raises = false;
  EXPECT_NEAR(*elements_of(deck)[0].per_turn, -std::log(710.0 / 700.0) / 20.0, 1e-15);
}

}  // namespace
}  // namespace weighwright::trim
