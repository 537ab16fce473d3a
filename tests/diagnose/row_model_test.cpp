#include "diagnose/row_model.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace weighwright::diagnose {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kLogTwoPi = 1.8378770664093453;

double log_normal(double off, double sd) {
  return -0.5 * off * off / (sd * sd) - std::log(sd) - 0.5 * kLogTwoPi;
}

// Wild readings are a mixture of their own; with a spread of nothing they add only their prior,
// 2e-3 a row, which is taken off here.
constexpr double kNoWild = 1e-9;

double without_wild(double log_evidence, double rows) {
  return log_evidence - std::log1p(2e-3 * rows);
}

struct Small {
  VectorXd value{2};
  VectorXd mean{2};
  VectorXd noise{2};
  MatrixXd open{2, 1};
  VectorXd wild = VectorXd::Constant(2, kNoWild);
  Small() {
    value << 1.3, -0.4;
    mean << 0.2, 0.5;
    noise << 0.7, 1.1;
    open << 0.9, -0.6;
  }
  [[nodiscard]] RowModel model() const { return {value, mean, noise, open, wild}; }
};

// Density of two correlated normals (any text on probability): with z = (y - m)/s and correlation
// rho, -ln(2 pi s1 s2 sqrt(1 - rho^2)) - (z1^2 - 2 rho z1 z2 + z2^2) / (2 (1 - rho^2)).
double bivariate(const Small& small) {
  const double s1 = std::hypot(small.noise(0), small.open(0, 0));
  const double s2 = std::hypot(small.noise(1), small.open(1, 0));
  const double rho = small.open(0, 0) * small.open(1, 0) / (s1 * s2);
  const double z1 = (small.value(0) - small.mean(0)) / s1;
  const double z2 = (small.value(1) - small.mean(1)) / s2;
  const double left = 1.0 - rho * rho;
  return -kLogTwoPi - std::log(s1 * s2 * std::sqrt(left)) -
         (z1 * z1 - 2.0 * rho * z1 * z2 + z2 * z2) / (2.0 * left);
}

TEST(RowModel, GivesTheTextbookDensityOfTwoCorrelatedNormals) {
  const Small small;
  EXPECT_NEAR(without_wild(small.model().weigh({}).log_evidence, 2.0), bivariate(small), 1e-9);
}

/// ln of the integral over the amount, trapezoids of 1/2000 of a standard deviation out to 10.
double by_quadrature(const Small& small, const VectorXd& column, double sd, bool positive) {
  double sum = 0.0;
  constexpr int kSteps = 40000;
  const double step = 20.0 * sd / kSteps;
  for (int k = 0; k <= kSteps; ++k) {
    const double amount = -10.0 * sd + k * step;
    if (positive && amount < 0.0) continue;
    Small moved = small;
    moved.mean += amount * column;
    const double edge = positive && std::abs(amount) < step / 2.0 ? 0.5 : 1.0;
    sum +=
        edge * step * std::exp(bivariate(moved) + log_normal(amount, sd)) * (positive ? 2.0 : 1.0);
  }
  return std::log(sum);
}

class AmountsAreIntegratedOut : public ::testing::TestWithParam<bool> {};

TEST_P(AmountsAreIntegratedOut, AsQuadratureHasIt) {
  const Small small;
  VectorXd column(2);
  column << -0.8, 1.7;
  Prediction prediction;
  prediction.columns = column;
  prediction.sd = VectorXd::Constant(1, 1.6);
  prediction.positive = GetParam();
  EXPECT_NEAR(without_wild(small.model().weigh(prediction).log_evidence, 2.0),
              by_quadrature(small, column, 1.6, GetParam()), 2e-6);
}
INSTANTIATE_TEST_SUITE_P(EitherSignOrOne, AmountsAreIntegratedOut, ::testing::Values(false, true));

TEST(RowModel, IgnoresAReplacedRowButForWhatItShows) {
  const Small small;
  Prediction prediction;
  prediction.replaced = {{.row = 1, .mean = -0.3, .sd = 0.2}};
  const double s1 = std::hypot(small.noise(0), small.open(0, 0));
  const double expected =
      log_normal(small.value(0) - small.mean(0), s1) + log_normal(small.value(1) + 0.3, 0.2);
  EXPECT_NEAR(without_wild(small.model().weigh(prediction).log_evidence, 2.0), expected, 1e-5);
}

TEST(RowModel, WidensByMoreNoise) {
  const Small small;
  Prediction prediction;
  prediction.added_sd.resize(2);
  prediction.added_sd << 0.0, 2.0;
  Small wider = small;
  wider.noise(1) = std::hypot(small.noise(1), 2.0);
  EXPECT_NEAR(without_wild(small.model().weigh(prediction).log_evidence, 2.0), bivariate(wider),
              1e-9);
}

// Bayes' theorem: p(y | q = c) = p(y, q = c) / p(q = c); q = x here, so that y given q has its mean
// moved by A c and keeps only its noise.
TEST(RowModel, KnowsWhatIsPinned) {
  const Small small;
  Prediction prediction;
  Pinned pinned;
  pinned.value = 0.8;
  pinned.sd = 1e-6;
  pinned.open = Eigen::RowVectorXd::Ones(1);
  pinned.amounts = Eigen::RowVectorXd::Zero(0);
  prediction.pinned = {pinned};
  const VectorXd off = small.value - small.mean - 0.8 * small.open.col(0);
  const double expected = log_normal(off(0), small.noise(0)) + log_normal(off(1), small.noise(1));
  EXPECT_NEAR(without_wild(small.model().weigh(prediction).log_evidence, 2.0), expected, 1e-4);
}

// Conditional normal (any text): y2 given y1 has mean m2 + c12 / v1 (y1 - m1), variance
// v2 - c12^2 / v1.
TEST(RowModel, LeavesOneOutAsTheConditionalNormalSays) {
  const Small small;
  const LeftOut left = small.model().leave_out({});
  const double v1 = std::pow(small.noise(0), 2) + std::pow(small.open(0, 0), 2);
  const double v2 = std::pow(small.noise(1), 2) + std::pow(small.open(1, 0), 2);
  const double c = small.open(0, 0) * small.open(1, 0);
  EXPECT_NEAR(left.mean(1), small.mean(1) + c / v1 * (small.value(0) - small.mean(0)), 1e-9);
  EXPECT_NEAR(left.sd(1), std::sqrt(v2 - c * c / v1), 1e-9);
}

TEST(RowModel, ForeseesANewRowAsTheConditionalNormalSays) {
  Small all;
  VectorXd value(1);
  VectorXd mean(1);
  VectorXd noise(1);
  VectorXd wild(1);
  value << all.value(0);
  mean << all.mean(0);
  noise << all.noise(0);
  wild << kNoWild;
  const RowModel one(value, mean, noise, all.open.row(0), wild);
  const RowModel::Foreseen seen =
      one.foresee({}, {}, all.mean.tail(1), all.noise.tail(1), all.open.row(1));
  const LeftOut left = all.model().leave_out({});
  EXPECT_NEAR(seen.mean(0), left.mean(1), 1e-9);
  EXPECT_NEAR(std::sqrt(seen.covariance(0, 0)), left.sd(1), 1e-9);
}

TEST(RowModel, FindsTheAmountOfALineThroughItsReadings) {
  // Five readings of one amount: least squares is their mean, its uncertainty noise / sqrt(5)
  // (JCGM 100:2008, 4.2.3), where the prior says nothing.
  VectorXd value(5);
  value << 2.0, 2.4, 1.8, 2.2, 2.6;
  const RowModel model(value, VectorXd::Zero(5), VectorXd::Constant(5, 0.3), MatrixXd::Zero(5, 1),
                       VectorXd::Constant(5, kNoWild));
  Prediction prediction;
  prediction.columns = MatrixXd::Ones(5, 1);
  prediction.sd = VectorXd::Constant(1, 1e4);
  const Weighed weighed = model.weigh(prediction);
  EXPECT_NEAR(weighed.amount, 2.2, 1e-7);
  EXPECT_NEAR(weighed.u_amount, 0.3 / std::sqrt(5.0), 1e-7);
}

TEST(RowModel, SaysWhichReadingIsWild) {
  VectorXd value(6);
  value << 0.1, -0.2, 0.0, 9.0, 0.2, -0.1;
  const RowModel model(value, VectorXd::Zero(6), VectorXd::Constant(6, 0.2), MatrixXd::Zero(6, 1),
                       VectorXd::Constant(6, 10.0));
  EXPECT_EQ(model.weigh({}).wild, 3);
  value(3) = 0.1;
  const RowModel tame(value, VectorXd::Zero(6), VectorXd::Constant(6, 0.2), MatrixXd::Zero(6, 1),
                      VectorXd::Constant(6, 10.0));
  EXPECT_EQ(tame.weigh({}).wild, -1);
}

}  // namespace
}  // namespace weighwright::diagnose
