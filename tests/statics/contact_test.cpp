/// Contact: stands that carry nothing, bearings that hang.
///
/// The readings of a pair next to a hanging bearing follow from three-point statics: the end module
/// stands on its two stands and one bearing, so that moments about the line through the bearing
/// give (R1 -+ J c / b) / 2 (hand statics, c and b the distances across of bearings and stands).

#include <Eigen/LU>

#include "statics/fixture.h"

// outside check: a hanging bearing, a stand that carries nothing | hand statics: (R1 ∓ J·c/b)/2 on
//  the end pair; forces of the other stands and the gap by an independent active-set solution

namespace weighwright::statics::tests {
namespace {

constexpr double kWeight = 5200.0 * kGravity;
constexpr double kEnd = kWeight * 7.0 / (2.0 * 6.7);      // R1 of deck R3
constexpr double kBearing = kWeight * 6.4 / (2.0 * 6.7);  // J of deck R3
constexpr Eigen::Index kRightBearing = 9;                 // of joint A-B, after eight stands

Eigen::VectorXd lowered(int stand, double by_m) {
  Eigen::VectorXd heights = Eigen::VectorXd::Zero(8);
  heights(stand) = -by_m;
  return heights;
}

TEST(HangingBearing, LeavesTheEndPairOnThreePointsWhateverIsTurnedFurther) {
  const Model model = built(deck_r3(200e6));
  for (const double by_m : {5e-3, 8e-3, 20e-3}) {
    const ContactState state = at_heights(model, lowered(0, by_m));
    ASSERT_EQ(state.open, std::vector<int>{kRightBearing});
    EXPECT_EQ(print_contact(model, state.open[0]), "bearing A-B right");
    EXPECT_GT(state.gap_m(kRightBearing), 0.0);
    EXPECT_NEAR(state.stand_N(0), (kEnd - kBearing) / 2.0, 1e-9 * kEnd);  // 1.1417 kN
    EXPECT_NEAR(state.stand_N(1), (kEnd + kBearing) / 2.0, 1e-9 * kEnd);  // 25.4973 kN
  }
  EXPECT_NEAR((kEnd - kBearing) / 2.0, 1141.7, 0.05);
  EXPECT_NEAR((kEnd + kBearing) / 2.0, 25497.3, 0.05);
}

TEST(HangingBearing, CloserTogetherThanTheStandsTakesLessOfThePair) {
  // Bearings at 1.6 m, stands at 2.4 m: 5.20 and 21.44 kN.
  const Model model = built(deck_r3(200e6, 1.6));
  const ContactState state = at_heights(model, lowered(0, 5e-3));
  ASSERT_EQ(state.open, std::vector<int>{kRightBearing});
  const double lever = kBearing * 1.6 / 2.4;
  EXPECT_NEAR(state.stand_N(0), (kEnd - lever) / 2.0, 1e-9 * kEnd);
  EXPECT_NEAR(state.stand_N(1), (kEnd + lever) / 2.0, 1e-9 * kEnd);
  EXPECT_NEAR(state.stand_N(0), 5201.0, 0.5);
  EXPECT_NEAR(state.stand_N(1), 21438.0, 0.5);
}

TEST(HangingBearing, ComesOnTheLeftWhenTheRightEndStandIsLow) {
  const Model model = built(deck_r3(200e6));
  const ContactState state = at_heights(model, lowered(1, 5e-3));
  ASSERT_EQ(state.open, std::vector<int>{kRightBearing - 1});
  EXPECT_NEAR(state.stand_N(1), (kEnd - kBearing) / 2.0, 1e-9 * kEnd);
}

TEST(HangingBearing, OpensFurtherByTheRigidMotionOfItsModule) {
  // With the bearing off, module A rocks about 1R and the left bearing: lowering 1L by d more lets
  // the plane through (0.3, -1.2), (7, 1.2) and 1L's top go down; at the right bearing it goes up
  // by d (equal distances across), apart from nothing elastic as no force changes.
  const Model model = built(deck_r3(200e6));
  const double first = at_heights(model, lowered(0, 8e-3)).gap_m(kRightBearing);
  const double second = at_heights(model, lowered(0, 9e-3)).gap_m(kRightBearing);
  EXPECT_NEAR(second - first, 1e-3, 1e-12);
}

TEST(HangingBearing, MakesTheInfluenceOfItsEndPairZero) {
  const Model model = built(deck_r3(200e6));
  const ContactState state = at_heights(model, lowered(0, 5e-3));
  const Eigen::MatrixXd k = influence(model, state, nominal(model));
  EXPECT_LE(k.topRows(2).cwiseAbs().maxCoeff(), 1e-9 * k.cwiseAbs().maxCoeff());
  EXPECT_GT(k(2, 2), 1e6);  // the other two modules still twist
}

TEST(HangingBearing, LeavesParityAndRollAlone) {
  const Model model = built(deck_r3(200e6));
  const Eigen::VectorXd f = at_heights(model, lowered(0, 5e-3)).stand_N;
  const Eigen::VectorXd s = section_sums(f);
  EXPECT_NEAR(s(0) - s(1) + s(2) - s(3), 0.0, 1e-9 * s.sum());
  double roll = 0.0;
  for (Eigen::Index k = 0; k < 4; ++k) roll += 2.4 * (f(2 * k) - f(2 * k + 1)) / 2.0;
  EXPECT_NEAR(roll, 0.0, 1e-9 * s.sum());
}

TEST(InnerStand, CanCarryNothingWhileEveryBearingPresses) {
  // Closed cells, 2R sunk by 5 mm: the pair's whole load, W/2 + J by hand statics, is on 2L.
  const Model model = built(deck_of_closed_cells());
  const ContactState state = at_heights(model, lowered(3, 5e-3));
  ASSERT_EQ(state.open, std::vector<int>{3});
  EXPECT_EQ(print_contact(model, 3), "2R");
  EXPECT_EQ(state.stand_N(3), 0.0);
  EXPECT_NEAR(state.stand_N(2), kWeight / 2.0 + kBearing, 1e-9 * kWeight);
  for (Eigen::Index bearing = 8; bearing < 12; ++bearing) {
    EXPECT_GT(state.contact_N(bearing), 100.0);
  }
  const Eigen::MatrixXd k = influence(model, state, nominal(model));
  EXPECT_EQ(k.row(3).cwiseAbs().maxCoeff(), 0.0);
  EXPECT_EQ(k.col(3).cwiseAbs().maxCoeff(), 0.0);
}

TEST(FreeStand, HasTheGapThatIsLeftWhenTheDeckStandsOnThree) {
  // One stiff module, 1L far down: it stands on 1R and 2L and a corner balances, 1L and 2R empty.
  // Both stand on the diagonal with half the weight each; lowering 1L by d opens it by d.
  const Model model = built(deck_r1());
  Eigen::VectorXd heights = Eigen::VectorXd::Zero(4);
  heights(0) = -0.1;
  const ContactState first = at_heights(model, heights);
  heights(0) = -0.11;
  const ContactState second = at_heights(model, heights);
  ASSERT_EQ(first.status, ContactStatus::solved);
  EXPECT_NEAR(first.stand_N(1), kWeight / 2.0, 1e-9 * kWeight);
  EXPECT_NEAR(first.stand_N(2), kWeight / 2.0, 1e-9 * kWeight);
  EXPECT_NEAR(first.stand_N(0) + first.stand_N(3), 0.0, 1e-9 * kWeight);
  EXPECT_NEAR(second.gap_m.sum() - first.gap_m.sum(), 0.01, 1e-9);
}

TEST(MiddleSupport, LiftsOffABeamWhenItSinksMoreThanTheBeamSags) {
  // Two spans of L: the middle support of a simple beam of 2 L carries nothing once it is lower
  // than 5 w (2 L)^4 / 384 EI (Hicks, fig. 2.2; AISC Manual table 3-23 case 1, from memory).
  const double bending = 252e6;
  const double w = 20e3;
  const Model model = built(beam({0.0, 7.0, 14.0}, bending, w * 14.0));
  const double sag = 5.0 * w * 14.0 * 14.0 * 14.0 * 14.0 / (384.0 * bending);
  for (const double more : {-1e-3, 2e-3}) {
    Eigen::VectorXd heights = Eigen::VectorXd::Zero(6);
    heights(2) = heights(3) = -(sag + more);
    const ContactState state = at_heights(model, heights);
    ASSERT_EQ(state.status, ContactStatus::solved);
    if (more < 0.0) {
      EXPECT_NEAR(state.stand_N(2) + state.stand_N(3), 6.0 * bending / 343.0 * -more, 1e-4);
      continue;
    }
    EXPECT_EQ(state.open, (std::vector<int>{2, 3}));
    EXPECT_NEAR(state.gap_m(2), more, 1e-10);
    EXPECT_NEAR(state.gap_m(3), more, 1e-10);
    EXPECT_NEAR(state.stand_N(0) + state.stand_N(1), 7.0 * w, 1e-9 * w);
  }
}

TEST(SolveContact, SaysWhatWouldHaveToPullUnderALoadThatTipsTheDeck) {
  const Model model = built(deck_r1());
  const BuiltLoad load = point_loads(model, {{3.5, 1.5, 1e6}});
  ASSERT_TRUE(load.load);
  const ContactState state =
      solve_contact(model, add(model.dead, *load.load), level(model), nominal(model));
  EXPECT_EQ(state.status, ContactStatus::infeasible);
  // Moments about the left stands: (1e6 * 0.3 - W * 1.2) / 2.4 on the right, half of it each.
  EXPECT_NE(state.what.find("module A tips: its stand"), std::string::npos) << state.what;
  EXPECT_NE(state.what.find("would have to pull 49.8 kN"), std::string::npos) << state.what;
}

TEST(SolveContact, RefusesHeightsOfAnotherDeck) {
  const Model model = built(deck_r1());
  EXPECT_THROW(static_cast<void>(at_heights(model, Eigen::VectorXd::Zero(3))),
               std::invalid_argument);
  Eigen::VectorXd heights = Eigen::VectorXd::Zero(4);
  heights(2) = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(static_cast<void>(at_heights(model, heights)), std::invalid_argument);
  Scales scales = nominal(model);
  scales.twist(0) = 0.0;
  EXPECT_THROW(static_cast<void>(solve_contact(model, model.dead, level(model), scales)),
               std::invalid_argument);
  EXPECT_THROW(static_cast<void>(add(model.dead, built(deck_r3()).dead)), std::invalid_argument);
}

}  // namespace
}  // namespace weighwright::statics::tests
