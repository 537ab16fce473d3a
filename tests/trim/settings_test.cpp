#include "trim/settings.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <limits>
#include <sstream>
#include <string>

#include "shifts.h"

// outside check: trims within their range | SciPy 1.10 `lsq_linear` on 60 random problems
//  (`tests/reference/bounded_least_squares.py`)

namespace weighwright::trim {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr double kThousandth = 1e-3;

struct Problem {
  int stands = 0;
  bool by_section = false;
  double penalty = 0.0;
  VectorXd gamma, low, high, found;
};

VectorXd numbers(const std::string& line) {
  std::vector<double> values;
  std::stringstream stream(line);
  std::string field;
  while (std::getline(stream, field, ',')) values.push_back(std::strtod(field.c_str(), nullptr));
  return Eigen::Map<const VectorXd>(values.data(), static_cast<Index>(values.size()));
}

/// Problems and answers of SciPy 1.10.1, lsq_linear (bounded-variable least squares, method bvls):
/// tests/reference/bounded_least_squares.py.
std::vector<Problem> problems() {
  std::ifstream file(WEIGHWRIGHT_SOURCE_DIR "/tests/reference/bounded_least_squares.csv");
  std::vector<Problem> list;
  std::string line;
  std::getline(file, line);  // versions
  while (std::getline(file, line)) {
    const VectorXd head = numbers(line);
    Problem problem;
    problem.stands = static_cast<int>(head(1));
    problem.by_section = head(2) != 0.0;
    problem.penalty = head(3);
    for (VectorXd* const part : {&problem.gamma, &problem.low, &problem.high, &problem.found}) {
      std::getline(file, line);
      *part = numbers(line) * kThousandth;
    }
    list.push_back(std::move(problem));
  }
  return list;
}

std::vector<Element> elements_for(const Problem& problem) {
  std::vector<Element> elements;
  for (Index k = 0; k < problem.found.size(); ++k) {
    Element element;
    const int first = static_cast<int>(problem.by_section ? 2 * k : k);
    element.stands = {first};
    if (problem.by_section) element.stands.push_back(first + 1);
    element.kind = problem.by_section ? TrimKind::section : TrimKind::digital;
    element.lowest = problem.low(k);
    element.highest = problem.high(k);
    elements.push_back(element);
  }
  return elements;
}

TEST(Settings, AreTheLeastSquaresWithinTheTrimsRangeOfAGeneralPurposeSolver) {
  const std::vector<Problem> list = problems();
  ASSERT_EQ(list.size(), 60U);
  for (std::size_t i = 0; i < list.size(); ++i) {
    const Problem& problem = list[i];
    // The penalty is a prior of 1 % a trim against the variance of the gains.
    const double variance = problem.penalty * 0.01 * 0.01;
    const Settings settings = best_settings(elements_for(problem), problem.gamma, variance,
                                            VectorXd::Zero(problem.found.size()),
                                            std::vector<bool>(elements_for(problem).size(), true));
    EXPECT_LT((settings.change - problem.found).cwiseAbs().maxCoeff(), 1e-6 * kThousandth)
        << "problem " << i;
  }
}

// By hand: trims that only attenuate and stand at their least bring everything down to the lowest.
TEST(Settings, OfTrimsThatOnlyAttenuateComeDownToTheLowestCorner) {
  std::vector<Element> elements(4);
  for (int k = 0; k < 4; ++k) {
    elements[static_cast<std::size_t>(k)].stands = {k};
    elements[static_cast<std::size_t>(k)].lowest = -std::numeric_limits<double>::infinity();
    elements[static_cast<std::size_t>(k)].highest = 0.0;
  }
  const VectorXd gains = (Eigen::Vector4d(0.002, -0.003, 0.0, 0.001)).eval();
  const Settings settings =
      best_settings(elements, gains, 0.0, VectorXd::Zero(4), {true, true, true, true});
  EXPECT_NEAR(settings.change(1), 0.0, 1e-9);
  EXPECT_NEAR(settings.change(0), -0.005, 1e-6);
  EXPECT_NEAR(settings.change(2), -0.003, 1e-6);
  EXPECT_NEAR(settings.change(3), -0.004, 1e-6);
  EXPECT_LT(settings.log_gain.cwiseAbs().maxCoeff(), 1e-6);
}

}  // namespace
}  // namespace weighwright::trim
