/// Reference: the mixed-integer solver cbc (Debian coinor-cbc), fed with LP files.

#include "share/fewest.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <Eigen/Cholesky>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <optional>
#include <random>
#include <sstream>
#include <string>

// outside check: fewest sections, least steps | mixed-integer optimum by CBC 2.10 (Debian's
//  coinor-cbc) on random hinged chains of one to six sections; exhaustive search on the smallest

namespace weighwright::share {
namespace {

struct Optimum {
  bool feasible = false;
  int touched = 0;
  int total = 0;
};

/// Random chains, whose effects follow the closed form of a hinged chain with stands on the joint
/// lines: twist forces answer C q = H with C tridiagonal, C_ii = 1/k_t + 4/k_s, C_i,i+1 = -2/k_s,
/// so that dF/dh = S C^-1 S' (force method by hand).
class RandomProblem {
 public:
  explicit RandomProblem(std::uint64_t seed) : random_(seed) {}

  FewestProblem make() {
    const int sections = whole(1, 6);
    FewestProblem problem;
    const double step_mm = 2.5 / 8.0;
    const double mV_per_kN = 0.0816;
    problem.effect = chain_effect(sections) * (step_mm * mV_per_kN);
    const Eigen::VectorXd off = vector(sections, -5.0, 5.0) / step_mm;  // heights, in steps
    problem.difference = problem.effect * off;
    problem.difference += vector(sections, -0.4, 0.4);
    problem.tolerance = Eigen::VectorXd::Constant(sections, between(0.3, 1.2));
    for (int k = 0; k < sections; ++k) {
      problem.low.push_back(-whole(0, 40));
      problem.high.push_back(whole(0, 40));
    }
    return problem;
  }

 private:
  double between(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random_);
  }
  int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
  Eigen::VectorXd vector(int size, double low, double high) {
    Eigen::VectorXd v(size);
    for (int i = 0; i < size; ++i) v(i) = between(low, high);
    return v;
  }

  /// Difference left - right of every section for 1 mm on the left stand of each, kN.
  Eigen::MatrixXd chain_effect(int sections) {
    if (sections == 1) return Eigen::MatrixXd::Constant(1, 1, between(0.5, 8.0));
    const int modules = sections - 1;
    const double k_s = between(100.0, 600.0);
    Eigen::MatrixXd c = Eigen::MatrixXd::Zero(modules, modules);
    Eigen::MatrixXd s = Eigen::MatrixXd::Zero(sections, modules);
    for (int i = 0; i < modules; ++i) {
      c(i, i) = 1.0 / between(0.5, 6.0) + 4.0 / k_s;
      if (i > 0) c(i, i - 1) = c(i - 1, i) = -2.0 / k_s;
      s(i, i) = 1.0;
      s(i + 1, i) = -1.0;
    }
    return 2.0 * s * c.llt().solve(s.transpose());
  }

  std::mt19937_64 random_;
};

/// Touched first, then the sum of steps: minimise 10^5 touched + total over x = p - n.
void write_lp(const FewestProblem& problem, const std::filesystem::path& path) {
  std::ofstream lp(path);
  lp.precision(17);
  const int k = static_cast<int>(problem.effect.cols());
  lp << "Minimize\n obj:";
  for (int i = 0; i < k; ++i) lp << " + 10000 z" << i << " + p" << i << " + n" << i;
  lp << "\nSubject To\n";
  for (Eigen::Index row = 0; row < problem.difference.size(); ++row) {
    std::ostringstream sum;
    sum.precision(17);
    for (int i = 0; i < k; ++i) {
      const double e = problem.effect(row, i);
      sum << (e < 0.0 ? " - " : " + ") << std::abs(e) << " p" << i;
      sum << (e < 0.0 ? " + " : " - ") << std::abs(e) << " n" << i;
    }
    const double d = problem.difference(row);
    const double t = problem.tolerance(row);
    lp << " up" << row << ":" << sum.str() << " <= " << t - d << "\n";
    lp << " dn" << row << ":" << sum.str() << " >= " << -t - d << "\n";
  }
  for (int i = 0; i < k; ++i) {
    const auto at = static_cast<std::size_t>(i);
    lp << " zp" << i << ": p" << i << " - " << problem.high[at] << " z" << i << " <= 0\n";
    lp << " zn" << i << ": n" << i << " - " << -problem.low[at] << " z" << i << " <= 0\n";
  }
  lp << "Bounds\n";
  for (int i = 0; i < k; ++i) {
    const auto at = static_cast<std::size_t>(i);
    lp << " 0 <= p" << i << " <= " << problem.high[at] << "\n";
    lp << " 0 <= n" << i << " <= " << -problem.low[at] << "\n";
    lp << " 0 <= z" << i << " <= 1\n";
  }
  lp << "Generals\n";
  for (int i = 0; i < k; ++i) lp << " p" << i << " n" << i << " z" << i << "\n";
  lp << "End\n";
}

/// Empty where the solver gave no proven answer.
std::optional<Optimum> read_solution(const std::filesystem::path& path) {
  std::ifstream file(path);
  std::string line;
  if (!std::getline(file, line)) return std::nullopt;
  Optimum optimum;
  if (line.find("nfeasible") != std::string::npos) return optimum;
  if (line.rfind("Optimal", 0) != 0) return std::nullopt;
  optimum.feasible = true;
  while (std::getline(file, line)) {
    std::istringstream cells(line);
    int column = 0;
    std::string name;
    double value = 0.0;
    if (!(cells >> column >> name >> value)) continue;
    const int whole = static_cast<int>(std::lround(value));
    if (name[0] == 'z') optimum.touched += whole;
    if (name[0] == 'p' || name[0] == 'n') optimum.total += whole;
  }
  return optimum;
}

class Solver {
 public:
  Solver()
      : folder_(std::filesystem::temp_directory_path() / ("fewest_" + std::to_string(::getpid()))) {
    std::filesystem::create_directories(folder_);
  }
  ~Solver() { std::filesystem::remove_all(folder_); }
  Solver(const Solver&) = delete;
  Solver& operator=(const Solver&) = delete;
  Solver(Solver&&) = delete;
  Solver& operator=(Solver&&) = delete;

  static bool here() { return std::system("command -v cbc > /dev/null 2>&1") == 0; }

  [[nodiscard]] std::optional<Optimum> solve(const FewestProblem& problem) const {
    const std::filesystem::path lp = folder_ / "problem.lp";
    const std::filesystem::path solution = folder_ / "solution.txt";
    std::filesystem::remove(solution);
    write_lp(problem, lp);
    const std::string command = "cbc '" + lp.string() + "' sec 20 ratio 0 allow 0.5 solve solu '" +
                                solution.string() + "' > /dev/null 2>&1";
    if (std::system(command.c_str()) != 0) return std::nullopt;
    return read_solution(solution);
  }

 private:
  std::filesystem::path folder_;
};

void expect_plan_holds(const FewestProblem& problem, const FewestPlan& plan) {
  Eigen::VectorXd left = problem.difference;
  int touched = 0;
  int total = 0;
  for (std::size_t k = 0; k < plan.steps.size(); ++k) {
    left += problem.effect.col(static_cast<Eigen::Index>(k)) * plan.steps[k];
    EXPECT_GE(plan.steps[k], problem.low[k]);
    EXPECT_LE(plan.steps[k], problem.high[k]);
    touched += plan.steps[k] != 0 ? 1 : 0;
    total += std::abs(plan.steps[k]);
  }
  EXPECT_EQ(plan.touched, touched);
  EXPECT_EQ(plan.total, total);
  EXPECT_LE((left.cwiseAbs() - problem.tolerance).maxCoeff(), 1e-8);
}

TEST(FewestSections, AreThoseOfAMixedIntegerSolver) {
  if (!Solver::here()) GTEST_SKIP() << "cbc (Debian package coinor-cbc) is not installed";
  const Solver solver;
  int compared = 0;
  int feasible = 0;
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    SCOPED_TRACE(seed);
    const FewestProblem problem = RandomProblem(seed).make();
    const FewestPlan plan = find_fewest(problem, static_cast<int>(problem.effect.cols()));
    if (plan.found) expect_plan_holds(problem, plan);
    const std::optional<Optimum> expected = solver.solve(problem);
    if (!expected || !plan.exact) continue;
    ++compared;
    EXPECT_EQ(plan.found, expected->feasible);
    if (!plan.found || !expected->feasible) continue;
    ++feasible;
    EXPECT_EQ(plan.touched, expected->touched);
    EXPECT_EQ(plan.total, expected->total);
  }
  EXPECT_GE(compared, 290);  // the rest: either search ran out of its time
  EXPECT_GE(feasible, 100);
  EXPECT_GE(compared - feasible, 20);
}

/// Every pair of steps tried.
Optimum brute_force(const FewestProblem& problem) {
  Optimum best;
  const bool two = problem.effect.cols() == 2;
  for (int a = problem.low[0]; a <= problem.high[0]; ++a) {
    for (int b = two ? problem.low[1] : 0; b <= (two ? problem.high[1] : 0); ++b) {
      Eigen::VectorXd left = problem.difference + problem.effect.col(0) * a;
      if (two) left += problem.effect.col(1) * b;
      if (((left.cwiseAbs() - problem.tolerance).array() > 0.0).any()) continue;
      const int touched = (a != 0 ? 1 : 0) + (b != 0 ? 1 : 0);
      const int total = std::abs(a) + std::abs(b);
      if (best.feasible &&
          (touched > best.touched || (touched == best.touched && total >= best.total))) {
        continue;
      }
      best = {true, touched, total};
    }
  }
  return best;
}

TEST(FewestSections, AreThoseOfTryingEveryStep) {
  int compared = 0;
  for (std::uint64_t seed = 1001; compared < 300; ++seed) {
    const FewestProblem problem = RandomProblem(seed).make();
    if (problem.effect.cols() > 2) continue;
    ++compared;
    SCOPED_TRACE(seed);
    const FewestPlan plan = find_fewest(problem, 2);
    const Optimum expected = brute_force(problem);
    ASSERT_TRUE(plan.exact);
    ASSERT_EQ(plan.found, expected.feasible);
    if (!plan.found) continue;
    EXPECT_EQ(plan.touched, expected.touched);
    EXPECT_EQ(plan.total, expected.total);
  }
}

TEST(FewestSections, AreNoneWithinTolerance) {
  FewestProblem problem;
  problem.difference = Eigen::VectorXd::Constant(2, 0.9);
  problem.tolerance = Eigen::VectorXd::Ones(2);
  problem.effect = Eigen::MatrixXd::Identity(2, 2);
  problem.low = {-5, -5};
  problem.high = {5, 5};
  const FewestPlan plan = find_fewest(problem, 2);
  EXPECT_TRUE(plan.found);
  EXPECT_EQ(plan.touched, 0);
  EXPECT_EQ(plan.total, 0);
}

// By hand: sections 1 and 4 agree, sections 2 and 3 are 13 and 12 mm off; dead load shares evenly
// once both are lowered by that (a common roll moves no load).
TEST(FewestSections, LeaveTheLargestGroupThatAgrees) {
  FewestProblem problem;
  // Row 1L, 2L of a chain of three modules, CalculiX 2.20 (kN/mm), by symmetry 3L, 4L; mm steps.
  Eigen::MatrixXd influence(4, 4);
  influence << 0.571027, -0.593363, 0.022410, -0.000074,  //
      -0.593363, 1.243731, -0.672779, 0.022410,           //
      0.022410, -0.672779, 1.243731, -0.593363,           //
      -0.000074, 0.022410, -0.593363, 0.571027;
  problem.effect = 2.0 * influence;
  problem.difference = problem.effect * Eigen::Vector4d(-7.0, 6.0, 5.0, -7.0);
  problem.tolerance = Eigen::VectorXd::Constant(4, 1e-3);
  problem.low.assign(4, -20);
  problem.high.assign(4, 20);
  const FewestPlan plan = find_fewest(problem, 4);
  ASSERT_TRUE(plan.found);
  EXPECT_EQ(plan.steps, (std::vector<int>{0, -13, -12, 0}));
}

}  // namespace
}  // namespace weighwright::share
