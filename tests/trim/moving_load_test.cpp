#include <gtest/gtest.h>

#include <Eigen/SVD>
#include <cmath>
#include <numbers>

#include "shifts.h"

// outside check: what rolling and centred loads can and can not tell | equilibrium by hand

namespace weighwright::trim {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

/// Forces on the stands as a two-axle vehicle (base 4.5 m, 35 and 65 % of its weight) rolls over
/// the deck with both axles on it, 60 samples; `offset_m` left of the centre line, `oblique_m` more
/// at the end than at the start, and `weaving_m` out and back between.
MatrixXd rolling(double offset_m, double oblique_m, double weaving_m = 0.0) {
  deck::Deck deck = statics::tests::deck_r3();
  const statics::Model model = statics::tests::built(deck);
  const statics::ContactState state = statics::solve_contact(
      model, model.dead, statics::tests::level(model), statics::nominal(model));
  constexpr int kSamples = 60;
  constexpr double kBase = 4.5;
  constexpr double kTrack = 1.9;
  MatrixXd forces = MatrixXd::Zero(kSamples, 8);
  for (int i = 0; i < kSamples; ++i) {
    const double part = static_cast<double>(i) / (kSamples - 1);
    const double x = part * (21.0 - kBase);
    const double y = offset_m + oblique_m * part + weaving_m * std::sin(std::numbers::pi * part);
    const auto wheels = statics::axle_group(x, y, {0.0, kBase}, {0.35, 0.65}, kTrack);
    const MatrixXd shares =
        statics::influence_surface(model, state, statics::nominal(model), wheels);
    for (std::size_t w = 0; w < wheels.size(); ++w) {
      forces.row(i) += wheels[w].force_N * shares.row(static_cast<Index>(w));
    }
  }
  return forces;
}

MatrixXd centred(MatrixXd forces) {
  forces.rowwise() -= forces.colwise().mean().eval();
  return forces;
}

MatrixXd stacked(const MatrixXd& a, const MatrixXd& b) {
  MatrixXd both(a.rows() + b.rows(), a.cols());
  both << a, b;
  return both;
}

int rank(const MatrixXd& a) {
  const VectorXd s = Eigen::JacobiSVD<MatrixXd>(a).singularValues();
  return static_cast<int>((s.array() > 1e-7 * s(0)).count());
}

// By statics: on a straight pass the sum of all forces and their moment about the centre line stay
// constant, so a mean taken off leaves rank n (n modules) in the middle, 2n beside it at most; two
// passes of one weight at two offsets, or one that weaves, have 2n + 1: everything but the scale.
TEST(RollingLoad, ThatRunsStraightCanNotTellLeftFromRight) {
  const MatrixXd middle = centred(rolling(0.0, 0.0));
  EXPECT_EQ(rank(middle), 3);
  const MatrixXd beside = centred(rolling(0.25, 0.0));
  EXPECT_LE(rank(beside), 6);
  VectorXd left = VectorXd::Zero(8);
  for (Index i = 0; i < 8; i += 2) left(i) = 1.0;
  EXPECT_LT((beside * left).norm(), 1e-9 * beside.norm());
}

TEST(RollingLoad, OfOneWeightAtTwoOffsetsTellsAllButTheScale) {
  const MatrixXd both = centred(stacked(rolling(0.25, 0.0), rolling(-0.25, 0.0)));
  EXPECT_EQ(rank(both), 7);
  // Two passes of unknown weights each: no.
  const MatrixXd apart = stacked(centred(rolling(0.25, 0.0)), centred(rolling(-0.25, 0.0)));
  EXPECT_LE(rank(apart), 6);
}

TEST(RollingLoad, ThatWeavesTellsAllButTheScale) {
  EXPECT_EQ(rank(centred(rolling(-0.25, 0.0, 0.5))), 7);
}

// By statics: on a straight oblique pass the moment across goes with the moment along, so one
// combination of all forces stays constant as on a straight one.
TEST(RollingLoad, ThatRunsObliquelyButStraightStillLeavesOneThingOpen) {
  EXPECT_EQ(rank(centred(rolling(-0.25, 0.5))), 6);
}

}  // namespace
}  // namespace weighwright::trim
