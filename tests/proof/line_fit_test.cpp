#include "proof/line_fit.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

// outside check: fitted line and polynomial | NIST Statistical Reference Datasets, linear
//  regression: Norris, Pontius
// outside check: line with known uncertainties, chi-square | ISO/TS 28037:2010, pp. 13 and 14, as
//  quoted in the tests of the general-purpose library GTC

namespace weighwright::proof {
namespace {

// NIST Statistical Reference Datasets, linear regression, Norris: calibration of ozone monitors.
constexpr std::array<double, 36> kNorrisY = {
    0.1, 338.8, 118.1, 888.0, 9.2,   228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3,
    0.1, 778.1, 668.8, 339.3, 448.9, 10.8,  557.7, 228.3, 998.0, 888.8, 119.6, 0.3,
    0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2,  117.6, 228.9, 668.4, 449.2, 0.2};
constexpr std::array<double, 36> kNorrisX = {
    0.2, 337.4, 118.2, 884.6, 10.1,  226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4,
    0.6, 775.5, 666.9, 338.0, 447.5, 11.6,  556.0, 228.1, 995.8, 887.6, 120.2, 0.3,
    0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1,  118.3, 229.2, 669.1, 448.9, 0.5};

double deviation(const LineFit& fit, int index) {
  return std::sqrt(fit.covariance(index, index));
}

void expect_digits(double value, double certified, double relative) {
  EXPECT_NEAR(value / certified, 1.0, relative);
}

// Certified values; ten digits are asked for, of fifteen.
TEST(LineFit, IsNistsNorris) {
  const auto fit = fit_polynomial(kNorrisX, kNorrisY, {}, 1);
  ASSERT_TRUE(fit);
  expect_digits(fit->coefficients(0), -0.262323073774029, 1e-10);
  expect_digits(fit->coefficients(1), 1.00211681802045, 1e-12);
  expect_digits(deviation(*fit, 0), 0.232818234301152, 1e-10);
  expect_digits(deviation(*fit, 1), 0.429796848199937e-3, 1e-10);
  expect_digits(fit->residual_s, 0.884796396144373, 1e-10);
  EXPECT_EQ(fit->dof, 34);
}

// NIST Statistical Reference Datasets, linear regression, Pontius: calibration of a load cell.
constexpr std::array<double, 40> kPontiusY = {
    .11019,  .21956,  .32949,  .43899,  .54803,  .65694,  .76562,  .87487,  .98292,  1.09146,
    1.20001, 1.30822, 1.41599, 1.52399, 1.63194, 1.73947, 1.84646, 1.95392, 2.06128, 2.16844,
    .11052,  .22018,  .32939,  .43886,  .54798,  .65739,  .76596,  .87474,  .98300,  1.09150,
    1.20004, 1.30818, 1.41613, 1.52408, 1.63159, 1.73965, 1.84696, 1.95445, 2.06177, 2.16829};

TEST(LineFit, IsNistsPontius) {
  std::vector<double> x;
  for (int i = 0; i < 40; ++i) x.push_back(150000.0 * (i % 20 + 1));
  const auto fit = fit_polynomial(x, kPontiusY, {}, 2);
  ASSERT_TRUE(fit);
  expect_digits(fit->coefficients(0), 0.673565789473684e-3, 1e-10);
  expect_digits(fit->coefficients(1), 0.732059160401003e-6, 1e-12);
  expect_digits(fit->coefficients(2), -0.316081871345029e-14, 1e-10);
  expect_digits(deviation(*fit, 0), 0.107938612033077e-3, 1e-10);
  expect_digits(deviation(*fit, 1), 0.157817399981659e-9, 1e-10);
  expect_digits(deviation(*fit, 2), 0.486652849992036e-16, 1e-10);
  expect_digits(fit->residual_s, 0.205177424076185e-3, 1e-10);
  expect_digits(fit->chi_squared, 0.155761768796992e-5, 1e-10);
  EXPECT_EQ(fit->dof, 37);
}

// ISO/TS 28037:2010, p. 13 (equal weights), as quoted with page numbers in the tests of the
// general-purpose library GTC.
TEST(LineFit, IsThatOfIso28037WithEqualWeights) {
  const std::vector<double> x = {1, 2, 3, 4, 5, 6};
  const std::vector<double> y = {3.3, 5.6, 7.1, 9.3, 10.7, 12.1};
  const auto fit = fit_polynomial(x, y, std::vector<double>(6, 0.5), 1);
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->coefficients(0), 1.866667, 5e-7);
  EXPECT_NEAR(fit->coefficients(1), 1.757143, 5e-7);
  EXPECT_NEAR(deviation(*fit, 0), 0.4654747, 5e-8);
  EXPECT_NEAR(deviation(*fit, 1), 0.1195229, 5e-8);
  EXPECT_NEAR(fit->covariance(0, 1), -0.050, 5e-4);
  EXPECT_NEAR(fit->chi_squared, 1.665, 5e-4);
}

// ISO/TS 28037:2010, p. 14 (unequal weights) and its chi-square limit for 4 degrees of freedom.
TEST(LineFit, IsThatOfIso28037WithUnequalWeights) {
  const std::vector<double> x = {1, 2, 3, 4, 5, 6};
  const std::vector<double> y = {3.2, 4.3, 7.6, 8.6, 11.7, 12.8};
  const std::vector<double> u = {0.5, 0.5, 0.5, 1.0, 1.0, 1.0};
  const auto fit = fit_polynomial(x, y, u, 1);
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->coefficients(0), 0.8852, 5e-5);
  EXPECT_NEAR(fit->coefficients(1), 2.0570, 5e-5);
  EXPECT_NEAR(deviation(*fit, 0), 0.5297081, 5e-8);
  EXPECT_NEAR(deviation(*fit, 1), 0.1778920, 5e-8);
  EXPECT_NEAR(fit->covariance(0, 1), -0.08227848, 5e-9);
  EXPECT_NEAR(fit->chi_squared, 4.131, 5e-4);
  EXPECT_NEAR(chi_squared_limit(fit->dof), 9.4877, 5e-5);
  EXPECT_LE(fit->chi_squared, chi_squared_limit(fit->dof));
}

TEST(LineFit, GivesNothingWhereThePointsDoNotSay) {
  const std::vector<double> one_place = {2, 2, 2};
  const std::vector<double> y = {1, 2, 3};
  EXPECT_FALSE(fit_polynomial(one_place, y, {}, 1));
  EXPECT_FALSE(fit_polynomial(std::vector<double>{1, 2}, std::vector<double>{1, 2}, {}, 1));
  EXPECT_FALSE(fit_polynomial(std::vector<double>{1, 2}, y, {}, 1));
  EXPECT_FALSE(fit_polynomial({}, {}, {}, 0));
}

// Through two points with known uncertainties the line goes exactly, and is as sure as they are.
TEST(LineFit, MeetsTwoPointsAndTheirUncertainty) {
  const auto fit = fit_polynomial(std::vector<double>{0, 10}, std::vector<double>{1, 3},
                                  std::vector<double>{0.3, 0.4}, 1);
  ASSERT_TRUE(fit);
  EXPECT_NEAR(value_at(*fit, 0).value, 1.0, 1e-12);
  EXPECT_NEAR(value_at(*fit, 0).u, 0.3, 1e-12);
  EXPECT_NEAR(value_at(*fit, 10).u, 0.4, 1e-12);
  EXPECT_NEAR(value_at(*fit, 5).value, 2.0, 1e-12);
  EXPECT_NEAR(value_at(*fit, 5).u, 0.25, 1e-12);  // half the root of 0.3^2 + 0.4^2
}

}  // namespace
}  // namespace weighwright::proof
