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

/// The deck when trims were turned, by hand (Millman): equal cells weigh (1 / R_i) / sum(1 / R_j),
/// and 1 / R_i goes with exp(effect), so that everybody's reading is divided by the mean of all.
VectorXd after_turns(const VectorXd& turns, double per_turn) {
  const VectorXd own = (turns * per_turn).array().exp();
  return uneven().cwiseProduct(own) / own.mean();
}

TEST(UnknownTrims, AreSetOnceAMoveHasShownWhatATurnDoes) {
  deck::Deck deck = bridge("signal");
  deck.trimming.step_turns = 0.01;
  deck.trimming.repeatability_kg = 0.5;
  const statics::Model model = statics::tests::built(deck);
  const double per_turn = -0.0015;  // clockwise lowers
  VectorXd turns = VectorXd::Zero(8);
  turns(0) = 1.0;
  const auto again = reading(
      over(0), 10000.0, tests::shows(deck, model, after_turns(turns, per_turn), over(0), 10000.0));
  record::TrimSet moved;
  moved.moves = {move(0, 1.0)};
  const TrimAdvice advice =
      advised(deck, model, {shift(corners(deck, model, uneven(), 10000.0)), moved, shift({again})});
  ASSERT_EQ(advice.verdict, Verdict::adjust);
  for (const TrimSetting& setting : advice.settings) turns(setting.element) += *setting.turns;
  EXPECT_LT(spread(after_turns(turns, per_turn)), 0.03 * spread(uneven()));
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

// By hand: the left side weighs 0.6 % more than the right, told with a load of 10 t on the left and
// of 9.5 t on the right. No two places have one load; the corners differ all the same.
TEST(UnequalLoads, AreComparedThroughTheGains) {
  const deck::Deck deck = bridge("digital");
  const statics::Model model = statics::tests::built(deck);
  VectorXd gains = VectorXd::Ones(8);
  for (Eigen::Index i = 0; i < 8; i += 2) gains(i) = 1.006;
  std::vector<record::LoadReading> readings;
  for (int i = 0; i < 8; ++i) {
    const double load = i % 2 == 0 ? 10000.0 : 9500.0;
    readings.push_back(reading(over(i), load, tests::shows(deck, model, gains, over(i), load)));
  }
  const TrimAdvice advice = advised(deck, model, {shift(readings)});
  EXPECT_EQ(advice.verdict, Verdict::adjust);
  EXPECT_NEAR(advice.before.kg, 60.0, 1.0);
}

TEST(Moves, MustNameATrimThatIsThereInAWayThatItIsSet) {
  const deck::Deck cells = bridge("signal");
  const deck::Deck factors = bridge("digital");
  const statics::Model model = statics::tests::built(cells);
  const auto readings = shift(corners(cells, model, uneven(), 10000.0));
  record::TrimSet section;
  section.source = "trims.csv";
  section.moves = {{.place = {.is_section = true, .stand = {}, .section = {1}},
                    .turns = 1.0,
                    .ohm = {},
                    .factor = {},
                    .line = 2}};
  record::TrimSet turned;
  turned.moves = {move(0, 1.0)};
  record::TrimSet factor;
  factor.moves = {{.place = {.is_section = false, .stand = {0}, .section = {0}},
                   .turns = {},
                   .ohm = {},
                   .factor = 1.001,
                   .line = 2}};
  const PlacedShifts wrong = place_loads(cells, model, {readings, section, readings});
  ASSERT_EQ(wrong.faults.size(), 1U);
  EXPECT_EQ(wrong.faults[0].file, "trims.csv");
  EXPECT_EQ(wrong.faults[0].line, 2);
  EXPECT_FALSE(place_loads(cells, model, {readings, factor, readings}).shifts);
  EXPECT_FALSE(place_loads(factors, model, {readings, turned, readings}).shifts);
  EXPECT_TRUE(place_loads(factors, model, {readings, factor, readings}).shifts);
}

// Two boxes, two kinds of trims: what a turn does in one says nothing of the other (by hand: -0.15
// % a turn in the first, +0.05 % in the second, both on the excitation, where nobody else is
// touched).
TEST(ChainedBoxes, LearnTheirTurnsEachForItself) {
  deck::Deck deck = bridge("excitation");
  deck.trimming.step_turns = 0.01;
  deck.trimming.repeatability_kg = 0.2;
  deck.trimming.attenuates = false;
  deck.boxes = {{.stands = {{0}, {1}, {2}, {3}}, .trims = "excitation"},
                {.stands = {{4}, {5}, {6}, {7}}, .trims = "excitation"}};
  const statics::Model model = statics::tests::built(deck);
  VectorXd gains = uneven();
  record::TrimSet moved;
  moved.moves = {move(0, 3.0), move(5, 3.0)};
  gains(0) *= std::exp(-0.0045);
  gains(5) *= std::exp(0.0015);
  const auto first = reading(over(0), 10000.0, tests::shows(deck, model, gains, over(0), 10000.0));
  const auto second = reading(over(5), 10000.0, tests::shows(deck, model, gains, over(5), 10000.0));
  const TrimAdvice advice = advised(
      deck, model, {shift(corners(deck, model, uneven(), 10000.0)), moved, shift({first, second})});
  ASSERT_EQ(advice.verdict, Verdict::adjust);
  for (const TrimSetting& setting : advice.settings) {
    gains(setting.element) *= std::exp((setting.element < 4 ? -0.0015 : 0.0005) * *setting.turns);
  }
  EXPECT_LT(spread(gains), 0.03 * spread(uneven()));
}

// A step of 20 kg on a load of 500 kg is 4 %: nobody is accused of it, and nothing is set by it.
TEST(LightLoads, AreToldToBeTooCoarse) {
  const deck::Deck deck = bridge("digital");
  const statics::Model model = statics::tests::built(deck);
  std::vector<record::LoadReading> readings = corners(deck, model, VectorXd::Ones(8), 500.0);
  for (record::LoadReading& one : readings) one.indication_kg = 500.0;
  for (record::LoadReading& one : readings) one.resolution_kg = 20.0;
  readings[2].indication_kg = 520.0;
  const TrimAdvice advice = advised(deck, model, {shift(readings)});
  EXPECT_EQ(advice.verdict, Verdict::too_coarse);
  for (const Finding& finding : advice.findings) EXPECT_EQ(finding.cause, Cause::too_coarse);
}

TEST(Overload, IsNamedAndHoldsTrimsBack) {
  const deck::Deck deck = bridge("digital");  // cells of 25 t
  const statics::Model model = statics::tests::built(deck);
  const TrimAdvice advice =
      advised(deck, model, {shift(corners(deck, model, VectorXd::Ones(8), 40000.0))});
  EXPECT_EQ(advice.verdict, Verdict::cause_first);
  EXPECT_EQ(advice.findings.front().cause, Cause::overload);
  // By hand: 40 t and 2.54 t of the deck on a cell of 25 t.
  EXPECT_NEAR(advice.findings.front().found, 17300.0, 300.0);
}

// By hand: in the middle of 12 ohm there are 6 ohm on each side, whatever is said of attenuating.
TEST(TrimsInOhm, CountFromNothingWhereverTheyStand) {
  deck::Deck deck = bridge("signal");
  deck.trimming.range_ohm = 12.0;
  deck.trimming.start = deck::Trimming::Start::middle;
  deck.trimming.attenuates = false;
  const std::vector<Element> elements = elements_of(deck);
  EXPECT_NEAR(ohm_of_effect(elements[0], elements[0].start), 6.0, 1e-12);
  EXPECT_DOUBLE_EQ(elements[0].highest, 0.0);
  const statics::Model model = statics::tests::built(deck);
  const TrimAdvice advice = advised(deck, model, {shift(corners(deck, model, uneven(), 10000.0))});
  ASSERT_EQ(advice.verdict, Verdict::adjust);
  VectorXd gains = uneven();
  for (const TrimSetting& setting : advice.settings) {
    ASSERT_TRUE(setting.ohm);
    EXPECT_GT(*setting.ohm, 0.0);
    EXPECT_LT(*setting.ohm, 12.0);
    gains(setting.element) *= 706.0 / (700.0 + *setting.ohm);
  }
  EXPECT_LT(spread(gains), 0.03 * spread(uneven()));
}

TEST(RoundedTurns, StayBeforeTheEnd) {
  deck::Deck deck = bridge("excitation");
  deck.trimming.range_share = 0.0075;
  deck.trimming.turns = 1.0;
  deck.trimming.step_turns = 0.4;
  deck.trimming.clockwise_raises = false;
  deck.trimming.start = deck::Trimming::Start::least;
  const statics::Model model = statics::tests::built(deck);
  const TrimAdvice advice = advised(deck, model, {shift(corners(deck, model, uneven(), 10000.0))});
  for (const TrimSetting& setting : advice.settings) EXPECT_LE(*setting.turns, 0.8 + 1e-9);
}

}  // namespace
}  // namespace weighwright::trim
