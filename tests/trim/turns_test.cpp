/// What is learned of a turn: ends, size, and that learning is no fault.

#include <gtest/gtest.h>

#include <cmath>

#include "shifts.h"
#include "trim/elements.h"

namespace weighwright::trim {
namespace {

using Eigen::VectorXd;
using tests::advised;
using tests::bridge;
using tests::corners;
using tests::over;
using tests::reading;
using tests::shift;

constexpr double kLoad_kg = 10000.0;

record::TrimSet turned(int stand, double turns) {
  record::TrimMove move;
  move.place.stand = units::StandIndex{stand};
  move.turns = turns;
  return {.moves = {move}, .source = "trims.csv"};
}

VectorXd uneven() {
  return (VectorXd(8) << 1.003, 0.998, 1.001, 1.0, 0.997, 1.0015, 0.9985, 1.0005).finished();
}

class Turns : public ::testing::Test {
 protected:
  Turns() : deck_(bridge("signal")), model_(statics::tests::built(deck_)) {}

  /// The load over 1L once its trim has taken `effect` from its cell: by Millman's theorem every
  /// path gains an eighth of that again (first order; equal cells).
  [[nodiscard]] record::ShiftSet over_first(double effect) const {
    VectorXd gains = uneven();
    gains(0) *= std::exp(effect);
    gains /= 1.0 + std::expm1(effect) / 8.0;
    return shift(
        {reading(over(0), kLoad_kg, tests::shows(deck_, model_, gains, over(0), kLoad_kg))});
  }
  [[nodiscard]] record::ShiftSet all() const {
    return shift(corners(deck_, model_, uneven(), kLoad_kg));
  }

  deck::Deck deck_;
  statics::Model model_;
};

// One turn clockwise against the end did nothing, three back lowered by 0.9 %: 0.3 % a turn. Who
// counts the turn against the end finds 0.45 %.
TEST_F(Turns, AgainstAnEndAreNotCounted) {
  const TrimAdvice advice = advised(
      deck_, model_, {all(), turned(0, 1.0), over_first(0.0), turned(0, -3.0), over_first(-0.009)});
  ASSERT_TRUE(advice.fit.turn);
  EXPECT_NEAR(advice.fit.turn->effect, 0.003, 1e-5);
  EXPECT_NEAR(advice.fit.effects_now(0), -0.009, 3e-5);
}

// The same with the other thread: three turns back against the end, then one clockwise.
TEST_F(Turns, AgainstTheOtherEndAreNotCountedEither) {
  const TrimAdvice advice = advised(
      deck_, model_, {all(), turned(0, -1.0), over_first(0.0), turned(0, 3.0), over_first(-0.009)});
  ASSERT_TRUE(advice.fit.turn);
  EXPECT_NEAR(advice.fit.turn->effect, -0.003, 1e-5);
}

// 20 ohm over 20 turns in leads of 700 ohm: 0.14 % a turn, by hand. Five turns that changed the
// reading by 0.2 % (noise), not 0.7 %, were made against the end.
TEST_F(Turns, OfAStatedSizeTellAnEndFromAMove) {
  deck_.trimming.range_ohm = 20.0;
  deck_.trimming.turns = 20.0;
  const TrimAdvice advice = advised(deck_, model_, {all(), turned(0, 5.0), over_first(-0.002)});
  ASSERT_EQ(advice.verdict, Verdict::learn);
  EXPECT_LT(advice.learning->turns, -5.0);
}

// 1.5 % down to learn what a turn does: the cell weighs 1.5 % too little now, and nothing is wrong.
TEST_F(Turns, MadeToLearnAreNoFault) {
  const TrimAdvice advice = advised(deck_, model_, {all(), turned(0, 5.0), over_first(-0.015)});
  EXPECT_TRUE(advice.findings.empty());
  EXPECT_EQ(advice.verdict, Verdict::adjust);
}

// Readings good to 6 kg (0.3 d) tell a change of 58 kg to 8.5 kg, 15 %; the trims have to move by
// up to 60 kg, so 9 kg of doubt, more than a fifth of e. One turn more stays below the limit of a
// trim.
TEST_F(Turns, AreMadeFurtherAtTheSameTrimWhileThatHelps) {
  const TrimAdvice coarse = advised(deck_, model_, {all(), turned(0, 2.0), over_first(-0.0058)});
  ASSERT_EQ(coarse.verdict, Verdict::learn);
  ASSERT_TRUE(coarse.learning);
  EXPECT_EQ(coarse.learning->element, 0);
  EXPECT_EQ(coarse.learning->turns, 1.0);  // 0.29 % a turn, 0.58 % made: up to 0.9 %
  const TrimAdvice fine =
      advised(deck_, model_,
              {all(), turned(0, 2.0), over_first(-0.0058), turned(0, 1.0), over_first(-0.0087)});
  EXPECT_EQ(fine.verdict, Verdict::adjust);
}

}  // namespace
}  // namespace weighwright::trim
