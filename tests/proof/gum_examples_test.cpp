// The worked examples of JCGM 100:2008, annex H, through the parts that the verdict is made of.

#include <gtest/gtest.h>

#include <Eigen/Core>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <vector>

#include "proof/budget.h"
#include "proof/correlated.h"
#include "proof/line_fit.h"

// outside check: standards compared with one standard add linearly | JCGM 100:2008, 5.2.2 Note 1,
//  example of ten resistors
// outside check: end gauge: u, degrees of freedom, U99 | JCGM 100:2008, H.1; more digits by the
//  general-purpose library GTC
// outside check: simultaneous resistance and reactance: means, covariances, correlations | JCGM
//  100:2008, H.2, tables H.2 to H.5
// outside check: calibration of a thermometer: line, covariance, value at 30 degrees | JCGM
//  100:2008, H.3, table H.6; more digits by numpy

namespace weighwright::proof {
namespace {

Term term(double u, double dof = std::numeric_limits<double>::infinity()) {
  return {"", u, dof, Shape::normal, 0};
}

// 5.2.2 Note 1, example: ten resistors of 0.1 ohm uncertainty, all compared with one standard, in
// series: 1 ohm, not 0.32 ohm.
TEST(GuideExample, StandardsOfOneStandardAddLinearly) {
  const Eigen::MatrixXd series = Eigen::MatrixXd::Ones(1, 10);
  const Eigen::MatrixXd alike = Eigen::MatrixXd::Constant(10, 10, 0.1 * 0.1);
  const Eigen::MatrixXd apart = Eigen::MatrixXd::Identity(10, 10) * 0.1 * 0.1;
  EXPECT_NEAR(std::sqrt(propagate(series, alike)(0, 0)), 1.0, 1e-12);
  EXPECT_NEAR(std::sqrt(propagate(series, apart)(0, 0)), 0.32, 0.005);
}

// H.1.3.2 and H.1.6, end gauge, nm: the comparison itself, 9.7 nm and 25.6 degrees of freedom.
TEST(GuideExample, H1ComparisonOfTheEndGauge) {
  const Budget budget =
      combine({term(13.0 / std::sqrt(5.0), 24), term(10.0 / 2.57, 5), term(20.0 / 3.0, 8)});
  EXPECT_NEAR(budget.u_kg, 9.7, 0.05);
  EXPECT_NEAR(budget.dof, 25.6, 0.05);
}

// The same from the terms as the guide rounds them; 9.68194195 and 25.44725 by the general-purpose
// library GTC.
Budget comparison() {
  return combine({term(5.8, 24), term(3.9, 5), term(6.7, 8)});
}

TEST(GuideExample, H1ComparisonFromRoundedTerms) {
  EXPECT_NEAR(comparison().u_kg, 9.68194195, 5e-9);
  EXPECT_NEAR(comparison().dof, 25.44725, 5e-6);
}

// H.1.7: u_c = 32 nm, 16.7 degrees of freedom, U99 = 93 nm; GTC: 31.66376741, 16.75214751.
TEST(GuideExample, H1EndGauge) {
  const double length_nm = 50000623.0;
  const Budget budget = combine({term(25.0, 18), term(comparison().u_kg, comparison().dof),
                                 term(length_nm * 0.1 * u_of_limits(1e-6), 50),
                                 term(length_nm * 11.5e-6 * u_of_limits(0.05), 2)},
                                0.99);
  EXPECT_NEAR(budget.u_kg, 32.0, 0.5);
  EXPECT_NEAR(budget.u_kg, 31.66376741, 0.002);
  EXPECT_NEAR(budget.dof, 16.7, 0.1);
  EXPECT_NEAR(budget.dof, 16.75214751, 0.005);
  EXPECT_NEAR(coverage_factor(std::floor(budget.dof), 0.99), 2.92, 0.005);
  EXPECT_EQ(round_uncertainty(coverage_factor(16, 0.99) * budget.u_kg).value, 93.0);
  EXPECT_EQ(budget.leads, 0);
}

// H.2, table H.2: voltage V, current A, phase rad; five sets taken together.
Eigen::MatrixXd impedance_readings() {
  Eigen::MatrixXd readings(5, 3);
  readings << 5.007, 19.663e-3, 1.0456,  //
      4.994, 19.639e-3, 1.0438,          //
      5.005, 19.640e-3, 1.0468,          //
      4.990, 19.685e-3, 1.0428,          //
      4.999, 19.678e-3, 1.0433;
  return readings;
}

struct Impedance {
  Eigen::Vector3d value;  // resistance, reactance, impedance
  Eigen::Matrix3d sensitivity;
};

Impedance impedance(const Eigen::Vector3d& means) {
  const double ratio = means(0) / means(1);
  const double cosine = std::cos(means(2));
  const double sine = std::sin(means(2));
  Impedance result;
  result.value << ratio * cosine, ratio * sine, ratio;
  result.sensitivity << cosine / means(1), -ratio * cosine / means(1), -ratio * sine,  //
      sine / means(1), -ratio * sine / means(1), ratio * cosine,                       //
      1.0 / means(1), -ratio / means(1), 0.0;
  return result;
}

// Table H.2: means, their standard deviations and correlations.
TEST(GuideExample, H2Readings) {
  const Eigen::MatrixXd covariance = covariance_of_means(impedance_readings());
  EXPECT_NEAR(std::sqrt(covariance(0, 0)), 0.0032, 5e-5);
  EXPECT_NEAR(std::sqrt(covariance(1, 1)), 0.0095e-3, 5e-8);
  EXPECT_NEAR(std::sqrt(covariance(2, 2)), 0.00075, 5e-6);
  const Eigen::MatrixXd r = correlation(covariance);
  EXPECT_NEAR(r(0, 1), -0.36, 0.0051);  // -0.355, which the guide rounds away from zero
  EXPECT_NEAR(r(0, 2), 0.86, 0.005);
  EXPECT_NEAR(r(1, 2), -0.65, 0.005);
}

// Tables H.3 and H.4.
TEST(GuideExample, H2ResistanceReactanceImpedance) {
  const Eigen::MatrixXd readings = impedance_readings();
  const Impedance z = impedance(readings.colwise().mean().transpose());
  EXPECT_NEAR(z.value(0), 127.732, 5e-4);
  EXPECT_NEAR(z.value(1), 219.847, 5e-4);
  EXPECT_NEAR(z.value(2), 254.260, 5e-4);
  const Eigen::MatrixXd covariance = propagate(z.sensitivity, covariance_of_means(readings));
  EXPECT_NEAR(std::sqrt(covariance(0, 0)), 0.071, 5e-4);
  EXPECT_NEAR(std::sqrt(covariance(1, 1)), 0.295, 7e-4);  // 0.2956 unrounded; printed 0.295
  EXPECT_NEAR(std::sqrt(covariance(2, 2)), 0.236, 5e-4);
  const Eigen::MatrixXd r = correlation(covariance);
  EXPECT_NEAR(r(0, 1), -0.588, 5e-4);
  EXPECT_NEAR(r(0, 2), -0.485, 5e-4);
  EXPECT_NEAR(r(1, 2), 0.993, 5e-4);
}

// Table H.5: what comes of the same readings where correlations are wrongly left out.
TEST(GuideExample, H2WithoutCorrelationsIsWrongAsTheGuideSays) {
  const Eigen::MatrixXd readings = impedance_readings();
  const Impedance z = impedance(readings.colwise().mean().transpose());
  const Eigen::MatrixXd variances = covariance_of_means(readings).diagonal().asDiagonal();
  const Eigen::MatrixXd covariance = propagate(z.sensitivity, variances);
  EXPECT_NEAR(std::sqrt(covariance(0, 0)), 0.195, 5e-4);
  EXPECT_NEAR(std::sqrt(covariance(1, 1)), 0.201, 5e-4);
  EXPECT_NEAR(std::sqrt(covariance(2, 2)), 0.204, 5e-4);
  const Eigen::MatrixXd r = correlation(covariance);
  EXPECT_NEAR(r(0, 1), 0.056, 5e-4);
  EXPECT_NEAR(r(0, 2), 0.527, 5e-4);
  EXPECT_NEAR(r(1, 2), 0.878, 5e-4);
}

// H.3, table H.6: calibration of a thermometer.
constexpr std::array<double, 11> kTemperature = {21.521, 22.012, 22.512, 23.003, 23.507, 23.999,
                                                 24.513, 25.002, 25.503, 26.010, 26.511};
constexpr std::array<double, 11> kCorrection = {-0.171, -0.169, -0.166, -0.159, -0.164, -0.165,
                                                -0.156, -0.157, -0.159, -0.161, -0.160};

std::optional<LineFit> thermometer(double reference) {
  std::vector<double> away;
  for (const double t : kTemperature) away.push_back(t - reference);
  return fit_polynomial(away, kCorrection, {}, 1);
}

// H.3.3 and H.3.4: intercept, slope, their standard deviations, correlation; H.3.4: b(30) =
// -0.1494(41). More digits by numpy.
TEST(GuideExample, H3CalibrationOfAThermometer) {
  const auto fit = thermometer(20.0);
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->coefficients(0), -0.1712, 5e-5);
  EXPECT_NEAR(fit->coefficients(1), 0.00218, 5e-6);
  EXPECT_NEAR(std::sqrt(fit->covariance(0, 0)), 0.0029, 5e-5);
  EXPECT_NEAR(std::sqrt(fit->covariance(1, 1)), 0.00067, 5e-6);
  EXPECT_NEAR(correlation(fit->covariance)(0, 1), -0.930, 5e-4);
  EXPECT_NEAR(fit->residual_s, 0.0035, 5e-5);
  EXPECT_NEAR(fit->residual_s, 0.00349756, 5e-9);
  EXPECT_EQ(fit->dof, 9);
  const FittedValue at_30 = value_at(*fit, 10.0);
  EXPECT_NEAR(at_30.value, -0.1494, 5e-5);
  EXPECT_NEAR(at_30.u, 0.0041, 5e-5);
  EXPECT_NEAR(at_30.u, 0.00413860, 5e-9);
}

// H.3.5: about the mean temperature, intercept and slope are not correlated: -0.1625(11) and
// 0.00218(67).
TEST(GuideExample, H3AboutTheMeanTemperature) {
  const auto fit = thermometer(24.0085);
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->coefficients(0), -0.1625, 5e-5);
  EXPECT_NEAR(std::sqrt(fit->covariance(0, 0)), 0.0011, 5e-5);
  EXPECT_NEAR(fit->coefficients(1), 0.00218, 5e-6);
  EXPECT_NEAR(correlation(fit->covariance)(0, 1), 0.0, 1e-3);
}

}  // namespace
}  // namespace weighwright::proof
