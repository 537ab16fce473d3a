/// One stand's place lifted: force on the jack, what opens.
///
/// Closed forms from one twist stiffness in series with the stands (the jack is rigid).

#include <cmath>

#include "statics/fixture.h"
#include "statics/surface.h"

namespace weighwright::statics::tests {
namespace {

constexpr double kStand = 200e6;
constexpr double kShare = 5200.0 * kGravity / 4.0;
const units::StandIndex kFirstLeft{0};

/// Twist stiffness of R1 by measuring nothing of the jack: dF/dh of R1 is 1 / (1/k_t + 4/k_s).
double series_with_three_stands(const Model& model) {
  const double k = influence_at_rest(model)(0, 0);
  return 1.0 / (1.0 / k - 1.0 / kStand);
}

JackState lifted(const Model& model, double lift_m) {
  return jack(model, model.dead, level(model), nominal(model), kFirstLeft, lift_m);
}

TEST(Jack, AtNoLiftCarriesNothing) {
  const Model model = built(deck_r1());
  const JackState state = lifted(model, 0.0);
  EXPECT_NEAR(state.force_N, 0.0, 1e-6);
  expect_near(state.stand_N, Eigen::VectorXd::Constant(4, kShare), 1e-9);
  EXPECT_TRUE(state.open.empty());
}

TEST(Jack, TakesOverTheStandAndThenTheDiagonal) {
  const Model model = built(deck_r1());
  const double k = series_with_three_stands(model);
  const double lift = 5e-3;
  const JackState state = lifted(model, lift);
  EXPECT_NEAR(state.free_lift_m, kShare / kStand, 1e-12);
  EXPECT_NEAR(state.force_N, kShare + k * lift, 1e-9 * kShare);
  EXPECT_EQ(state.stand_N(0), 0.0);
  EXPECT_NEAR(state.stand_N(1), kShare - k * lift, 1e-9 * kShare);
  EXPECT_NEAR(state.stand_N(2), kShare - k * lift, 1e-9 * kShare);
  EXPECT_NEAR(state.stand_N(3), kShare + k * lift, 1e-9 * kShare);
  EXPECT_EQ(state.open, std::vector<int>{0});
  EXPECT_NEAR(state.most_lift_m, kShare / k, 1e-9);
  EXPECT_TRUE(state.limited_by == "1R" || state.limited_by == "2L") << state.limited_by;
}

TEST(Jack, SharesWithTheStandWhileItIsNotFree) {
  const Model model = built(deck_r1());
  const double lift = 0.5 * kShare / kStand;
  const JackState state = lifted(model, lift);
  EXPECT_NEAR(state.stand_N(0), 0.5 * kShare, 1e-9 * kShare);
  EXPECT_NEAR(state.force_N, 0.5 * kShare + series_with_three_stands(model) * lift, 1e-9 * kShare);
}

TEST(Jack, MovesAllOfAnInnerSectionToItselfOnAClosedDeck) {
  // 2L lifted by 5 mm takes W/2 + J, the sum of the section by hand statics; 2R carries nothing.
  const Model model = built(deck_of_closed_cells());
  const double sum = 5200.0 * kGravity * (0.5 + 6.4 / (2.0 * 6.7));
  const units::StandIndex second_left{2};
  const JackState state = jack(model, model.dead, level(model), nominal(model), second_left, 5e-3);
  EXPECT_NEAR(state.force_N, sum, 1e-9 * sum);
  EXPECT_EQ(state.stand_N(3), 0.0);
  EXPECT_EQ(state.limited_by, "2R");
  // Just before the limit 2R still presses, just beyond it does not.
  const auto right = [&](double lift_m) {
    return jack(model, model.dead, level(model), nominal(model), second_left, lift_m).stand_N(3);
  };
  EXPECT_GT(right(state.most_lift_m - 1e-6), 0.0);
  EXPECT_EQ(right(state.most_lift_m + 1e-6), 0.0);
}

TEST(Jack, AtAnEndStandOpensABearing) {
  const Model model = built(deck_of_closed_cells());
  const JackState state = lifted(model, 1e-3);
  EXPECT_EQ(state.limited_by, "bearing A-B left");
  EXPECT_LT(state.most_lift_m, 20e-3);
  const JackState beyond = lifted(model, state.most_lift_m + 1e-3);
  EXPECT_EQ(beyond.open, (std::vector<int>{0, 8}));
}

TEST(Jack, UnderAFreeStandStartsWhereTheDeckIs) {
  const Model model = built(deck_of_closed_cells());
  Eigen::VectorXd heights = level(model);
  heights(3) = -6e-3;
  const JackState state =
      jack(model, model.dead, heights, nominal(model), units::StandIndex{3}, 0.0);
  EXPECT_NEAR(state.force_N, 0.0, 1e-6);
  EXPECT_EQ(state.free_lift_m, 0.0);
  const JackState raised =
      jack(model, model.dead, heights, nominal(model), units::StandIndex{3}, 1e-3);
  EXPECT_GT(raised.force_N, 1000.0);
  EXPECT_EQ(raised.stand_N(3), 0.0);
}

TEST(Jack, UnderAMiddleSectionOfAPlainBeamMeetsNoLimitAtSmallForces) {
  // A simple span on two sections, statically determinate along; across it twists: the far corner
  // of the diagonal opens first, never "nothing".
  const Model model = built(deck_r1());
  EXPECT_TRUE(std::isfinite(lifted(model, 0.0).most_lift_m));
}

TEST(Jack, RefusesWhatIsNoLift) {
  const Model model = built(deck_r1());
  EXPECT_THROW(static_cast<void>(lifted(model, -1e-3)), std::invalid_argument);
  EXPECT_THROW(static_cast<void>(lifted(model, std::nan(""))), std::invalid_argument);
  EXPECT_THROW(static_cast<void>(jack(model, model.dead, level(model), nominal(model),
                                      units::StandIndex{4}, 1e-3)),
               std::invalid_argument);
}

TEST(Jack, TellsWhenTheLoadCanNotStand) {
  const Model model = built(deck_r1());
  const BuiltLoad load = point_loads(model, {{3.5, 1.5, 1e6}});
  ASSERT_TRUE(load.load);
  const JackState state =
      jack(model, add(model.dead, *load.load), level(model), nominal(model), kFirstLeft, 1e-3);
  EXPECT_EQ(state.status, ContactStatus::infeasible);
  EXPECT_FALSE(state.what.empty());
}

}  // namespace
}  // namespace weighwright::statics::tests
