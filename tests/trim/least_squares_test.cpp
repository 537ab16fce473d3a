#include "trim/least_squares.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

// outside check: least squares | NIST Statistical Reference Datasets: NoInt1, NoInt2, Norris,
//  Longley

namespace weighwright::trim {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

double residual_sd(const LeastSquares& solved) {
  const auto freedoms = static_cast<double>(solved.residual.size() - solved.rank);
  return std::sqrt(solved.residual.squaredNorm() / freedoms);
}

// NIST Statistical Reference Datasets, linear regression (public domain): data and certified
// values.

TEST(LeastSquares, MeetsTheCertifiedValuesOfNoInt1) {
  MatrixXd x(11, 1);
  VectorXd y(11);
  for (int i = 0; i < 11; ++i) {
    x(i, 0) = 60.0 + i;
    y(i) = 130.0 + i;
  }
  const LeastSquares solved = least_squares(x, y);
  EXPECT_NEAR(solved.x(0), 2.07438016528926, 1e-13);
  EXPECT_NEAR(residual_sd(solved), 3.56753034006338, 1e-12);
  EXPECT_NEAR(residual_sd(solved) * solved.solver.row(0).norm(), 0.165289256198347e-01, 1e-14);
}

TEST(LeastSquares, MeetsTheCertifiedValuesOfNoInt2) {
  MatrixXd x(3, 1);
  x << 4, 5, 6;
  VectorXd y(3);
  y << 3, 4, 4;
  const LeastSquares solved = least_squares(x, y);
  EXPECT_NEAR(solved.x(0), 0.727272727272727, 1e-14);
  EXPECT_NEAR(residual_sd(solved), 0.369274472937998, 1e-14);
}

TEST(LeastSquares, MeetsTheCertifiedValuesOfNorris) {
  // y, x as published
  const double data[36][2] = {{0.1, 0.2},     {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6},
                              {9.2, 10.1},    {228.1, 226.5}, {668.5, 666.3}, {998.5, 996.3},
                              {449.1, 448.6}, {778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4},
                              {0.1, 0.6},     {778.1, 775.5}, {668.8, 666.9}, {339.3, 338.0},
                              {448.9, 447.5}, {10.8, 11.6},   {557.7, 556.0}, {228.3, 228.1},
                              {998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3},
                              {0.6, 0.3},     {557.6, 556.8}, {339.3, 339.1}, {888.0, 887.2},
                              {998.5, 999.0}, {778.9, 779.0}, {10.2, 11.1},   {117.6, 118.3},
                              {228.9, 229.2}, {668.4, 669.1}, {449.2, 448.9}, {0.2, 0.5}};
  MatrixXd x(36, 2);
  VectorXd y(36);
  for (int i = 0; i < 36; ++i) {
    x.row(i) << 1.0, data[i][1];
    y(i) = data[i][0];
  }
  const LeastSquares solved = least_squares(x, y);
  EXPECT_NEAR(solved.x(0), -0.262323073774029, 1e-12);
  EXPECT_NEAR(solved.x(1), 1.00211681802045, 1e-13);
}

TEST(LeastSquares, MeetsTheCertifiedValuesOfLongleyThoughItIsBadlyConditioned) {
  const double data[16][7] = {{60323, 83.0, 234289, 2356, 1590, 107608, 1947},
                              {61122, 88.5, 259426, 2325, 1456, 108632, 1948},
                              {60171, 88.2, 258054, 3682, 1616, 109773, 1949},
                              {61187, 89.5, 284599, 3351, 1650, 110929, 1950},
                              {63221, 96.2, 328975, 2099, 3099, 112075, 1951},
                              {63639, 98.1, 346999, 1932, 3594, 113270, 1952},
                              {64989, 99.0, 365385, 1870, 3547, 115094, 1953},
                              {63761, 100.0, 363112, 3578, 3350, 116219, 1954},
                              {66019, 101.2, 397469, 2904, 3048, 117388, 1955},
                              {67857, 104.6, 419180, 2822, 2857, 118734, 1956},
                              {68169, 108.4, 442769, 2936, 2798, 120445, 1957},
                              {66513, 110.8, 444546, 4681, 2637, 121950, 1958},
                              {68655, 112.6, 482704, 3813, 2552, 123366, 1959},
                              {69564, 114.2, 502601, 3931, 2514, 125368, 1960},
                              {69331, 115.7, 518173, 4806, 2572, 127852, 1961},
                              {70551, 116.9, 554894, 4007, 2827, 130081, 1962}};
  const double certified[7] = {-3482258.63459582, 15.0618722713733,  -0.358191792925910e-01,
                               -2.02022980381683, -1.03322686717359, -0.511041056535807e-01,
                               1829.15146461355};
  MatrixXd x(16, 7);
  VectorXd y(16);
  for (int i = 0; i < 16; ++i) {
    x(i, 0) = 1.0;
    for (int j = 1; j < 7; ++j) x(i, j) = data[i][j];
    y(i) = data[i][0];
  }
  const LeastSquares solved = least_squares(x, y);
  for (int j = 0; j < 7; ++j) {
    EXPECT_NEAR(solved.x(j) / certified[j], 1.0, 1e-9) << "coefficient " << j;
  }
}

// By hand: (6, 2, 2.02), (2, 6, 2.02), (2, 2, 6.06) weigh 10 each exactly with gains 1, 1 and
// 10 / 10.1 of what the third gives less: 6 + 2 + 2.02 g = 10 gives g = 0.990099...
TEST(LeastSquares, FindsTheThirdCellOfThreeThatWeighsOnePercentMore) {
  MatrixXd a(3, 3);
  a << 6.0, 2.0, 2.02, 2.0, 6.0, 2.02, 2.0, 2.0, 6.06;
  const LeastSquares solved = least_squares(a, VectorXd::Constant(3, 10.0));
  EXPECT_NEAR(solved.x(0), 1.0, 1e-13);
  EXPECT_NEAR(solved.x(1), 1.0, 1e-13);
  EXPECT_NEAR(solved.x(2), 1.0 / 1.01, 1e-13);
}

// By hand: x + y is seen twice, x - y never.
TEST(LeastSquares, KnowsWhatItCouldNotSee) {
  MatrixXd a(2, 2);
  a << 1.0, 1.0, 1.0, 1.0;
  const LeastSquares solved = least_squares(a, Eigen::Vector2d(2.0, 4.0));
  EXPECT_EQ(solved.rank, 1);
  EXPECT_NEAR(solved.x.sum(), 3.0, 1e-14);
  const Eigen::RowVector2d sum(1.0, 1.0);
  const Eigen::RowVector2d difference(1.0, -1.0);
  EXPECT_LT((sum * solved.seen - sum).norm(), 1e-14);
  EXPECT_GT((difference * solved.seen - difference).norm(), 1.0);
}

bool is_refused(const MatrixXd& a, const VectorXd& y) {
  try {
    return least_squares(a, y).rank < 0;
  } catch (const std::invalid_argument&) {
    return true;
  }
}

TEST(LeastSquares, RefusesWhatIsNoProblem) {
  const MatrixXd tall = MatrixXd::Zero(2, 1);
  const VectorXd long_one = VectorXd::Zero(3);
  const MatrixXd nothing = MatrixXd::Constant(1, 1, std::nan(""));
  const VectorXd one = VectorXd::Ones(1);
  EXPECT_TRUE(is_refused(tall, long_one));
  EXPECT_TRUE(is_refused(nothing, one));
}

}  // namespace
}  // namespace weighwright::trim
