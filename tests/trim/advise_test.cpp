#include "trim/advise.h"

#include <gtest/gtest.h>

#include <cmath>

#include "shifts.h"

namespace weighwright::trim {
namespace {

using Eigen::VectorXd;
using tests::advised;
using tests::bridge;
using tests::corners;
using tests::over;
using tests::reading;
using tests::shift;

VectorXd uneven() {
  VectorXd gains(8);
  gains << 1.004, 0.997, 1.002, 1.0, 0.998, 1.003, 0.996, 1.001;
  return gains;
}

record::TrimMove move(int stand, double turns) {
  return {.place = {.is_section = false, .stand = {stand}, .section = {stand / 2}},
          .turns = turns,
          .ohm = {},
          .factor = {},
          .line = 2};
}

double spread(const VectorXd& gains) {
  return gains.maxCoeff() - gains.minCoeff();
}

// By hand: what every gain times its factor must give is one number.
TEST(DigitalFactors, MakeEveryStandWeighTheSame) {
  const deck::Deck deck = bridge("digital");
  const statics::Model model = statics::tests::built(deck);
  const TrimAdvice advice = advised(deck, model, {shift(corners(deck, model, uneven(), 10000.0))});
  ASSERT_EQ(advice.verdict, Verdict::adjust);
  VectorXd gains = uneven();
  for (const TrimSetting& setting : advice.settings) gains(setting.element) *= *setting.factor;
  // The penalty that keeps trims near their start leaves a hundredth of the demand.
  EXPECT_LT(spread(gains), 0.01 * spread(uneven()));
  EXPECT_LT(advice.then.kg, 1.0);
}

// By hand (Millman): the parallel weight of a cell is (1 / (R + rho)) / sum; every trim may only
// attenuate, so the lowest corner stays and the others come down to it.
TEST(SignalTrims, BringEveryCornerDownToTheLowest) {
  deck::Deck deck = bridge("signal");
  deck.trimming.range_ohm = 20.0;
  deck.trimming.start_ohm = 0.0;
  const statics::Model model = statics::tests::built(deck);
  const TrimAdvice advice = advised(deck, model, {shift(corners(deck, model, uneven(), 10000.0))});
  ASSERT_EQ(advice.verdict, Verdict::adjust);
  VectorXd gains = uneven();
  for (const TrimSetting& setting : advice.settings) {
    ASSERT_TRUE(setting.ohm);
    EXPECT_GE(*setting.ohm, 0.0);
    gains(setting.element) *= 700.0 / (700.0 + *setting.ohm);
  }
  EXPECT_LT(spread(gains), 0.02 * spread(uneven()));
  Eigen::Index lowest = 0;
  uneven().minCoeff(&lowest);
  for (const TrimSetting& setting : advice.settings) EXPECT_NE(setting.element, lowest);
}

TEST(UnknownTrims, AreTurnedByOneTurnFirst) {
  const deck::Deck deck = bridge("signal");
  const statics::Model model = statics::tests::built(deck);
  const TrimAdvice advice = advised(deck, model, {shift(corners(deck, model, uneven(), 10000.0))});
  EXPECT_EQ(advice.verdict, Verdict::learn);
  ASSERT_TRUE(advice.learning);
  EXPECT_TRUE(advice.settings.empty());
}

/// The deck when a trim of 0.15 % a turn was turned; what a signal trim takes from its own cell it
/// gives to all in their parts (Millman, first order exact in logs).
VectorXd after_turns(const deck::Deck& deck, const VectorXd& turns, double per_turn) {
  const std::vector<Element> elements = elements_of(deck);
  return (uneven().array().log() + log_factors(elements, turns * per_turn, 8).array()).exp();
}

TEST(UnknownTrims, AreSetOnceAMoveHasShownWhatATurnDoes) {
  deck::Deck deck = bridge("signal");
  deck.trimming.step_turns = 0.01;
  deck.trimming.repeatability_kg = 0.5;
  const statics::Model model = statics::tests::built(deck);
  const double per_turn = -0.0015;  // clockwise lowers
  VectorXd turns = VectorXd::Zero(8);
  turns(0) = 1.0;
  const auto again =
      reading(over(0), 10000.0,
              tests::shows(deck, model, after_turns(deck, turns, per_turn), over(0), 10000.0));
  record::TrimSet moved;
  moved.moves = {move(0, 1.0)};
  const TrimAdvice advice =
      advised(deck, model, {shift(corners(deck, model, uneven(), 10000.0)), moved, shift({again})});
  ASSERT_EQ(advice.verdict, Verdict::adjust);
  for (const TrimSetting& setting : advice.settings) turns(setting.element) += *setting.turns;
  EXPECT_LT(spread(after_turns(deck, turns, per_turn)), 0.03 * spread(uneven()));
}

TEST(UnknownTrims, AreTurnedTheOtherWayWhenTheFirstMoveDidNothing) {
  const deck::Deck deck = bridge("signal");
  const statics::Model model = statics::tests::built(deck);
  record::TrimSet moved;
  moved.moves = {move(0, 1.0)};
  const auto again =
      reading(over(0), 10000.0, tests::shows(deck, model, uneven(), over(0), 10000.0));
  const TrimAdvice advice =
      advised(deck, model, {shift(corners(deck, model, uneven(), 10000.0)), moved, shift({again})});
  ASSERT_EQ(advice.verdict, Verdict::learn);
  EXPECT_LT(advice.learning->turns, -1.0);
}

TEST(SectionTrims, LeaveWhatOnlyCellTrimsCouldMendAndSaySo) {
  const deck::Deck deck = bridge("section");
  const statics::Model model = statics::tests::built(deck);
  VectorXd gains = VectorXd::Ones(8);
  gains(0) = 1.004;
  gains(1) = 0.996;  // left and right apart, sections alike
  const TrimAdvice advice = advised(deck, model, {shift(corners(deck, model, gains, 10000.0))});
  EXPECT_NEAR(advice.attainable_kg, 80.0, 1.0);  // 0.8 % of 10 t, by hand
  EXPECT_NE(advice.verdict, Verdict::within);
}

TEST(BoxesWithoutTrims, AreToldAsSuch) {
  const deck::Deck deck = bridge("none");
  const statics::Model model = statics::tests::built(deck);
  EXPECT_EQ(advised(deck, model, {shift(corners(deck, model, uneven(), 10000.0))}).verdict,
            Verdict::no_trims);
}

// GUM (JCGM 100:2008) F.2.2.1: rounding to d is d / (2 sqrt 3); nine kilograms for a display of
// 20 kg with repeatability 0.3 d and two zeros: sqrt(5.77^2 + 6^2 + 5.77^2 / 2).
TEST(Uncertainty, OfAReadingIsRoundingRepeatabilityAndZero) {
  const deck::Deck deck = bridge();
  const statics::Model model = statics::tests::built(deck);
  std::vector<record::LoadReading> readings = corners(deck, model, VectorXd::Ones(8), 10000.0);
  for (record::LoadReading& one : readings) one.indication_kg = 10000.0;
  const TrimAdvice advice = advised(deck, model, {shift(readings)});
  const double rounding = 20.0 / std::sqrt(12.0);
  EXPECT_NEAR(advice.shifts.placed[0].u_kg, std::sqrt(1.5 * rounding * rounding + 36.0), 1e-9);
  // Gains from loads over the stands: 1.003 to 1.006 of it (a separate numpy model), about all of
  // it.
  const double u_gain = std::sqrt(advice.fit.covariance(0, 0)) * 10000.0;
  EXPECT_NEAR(u_gain, advice.shifts.placed[0].u_kg * std::sqrt(7.0 / 8.0), 0.1);
}

TEST(GuidedOrder, AddsUpToTheSettings) {
  const deck::Deck deck = bridge("digital");
  const statics::Model model = statics::tests::built(deck);
  const TrimAdvice advice = advised(deck, model, {shift(corners(deck, model, uneven(), 10000.0))});
  VectorXd sum = VectorXd::Zero(8);
  bool sections_began = false;
  for (const OrderStep& step : advice.order) {
    sections_began |= !step.is_pair;
    EXPECT_FALSE(step.is_pair && sections_began) << "pairs come first";
    for (const auto& [element, change] : step.changes) sum(element) += change;
  }
  VectorXd settings = VectorXd::Zero(8);
  for (const TrimSetting& setting : advice.settings) settings(setting.element) = setting.change;
  EXPECT_LT((sum - settings).cwiseAbs().maxCoeff(), 1.1e-4);
}

TEST(Advice, IsTheSameEveryTime) {
  const deck::Deck deck = bridge("digital");
  const statics::Model model = statics::tests::built(deck);
  const auto readings = shift(corners(deck, model, uneven(), 10000.0));
  const TrimAdvice first = advised(deck, model, {readings});
  const TrimAdvice second = advised(deck, model, {readings});
  EXPECT_EQ(first.then.expected_kg, second.then.expected_kg);
  EXPECT_EQ(first.then.chance_within, second.then.chance_within);
}

}  // namespace
}  // namespace weighwright::trim
