/// The quadratic program against exhaustive enumeration of active sets, and its conditions.
///
/// Source: the conditions of Karush, Kuhn and Tucker are necessary and sufficient for a strictly
/// convex program; every subset of inequalities is tried as equalities.

#include <Eigen/Dense>
#include <cmath>
#include <limits>
#include <optional>
#include <random>

#include "statics/dual_active_set.h"
#include "statics/fixture.h"

// outside check: the contact program's minimum | exhaustive enumeration of active sets; conditions
//  of Karush, Kuhn and Tucker

namespace weighwright::statics::tests {
namespace {

struct Program {
  Eigen::MatrixXd c;
  Eigen::VectorXd d;
  Eigen::MatrixXd a;
  Eigen::VectorXd b;
};

Program random_program(std::mt19937_64& random) {
  std::normal_distribution<double> normal;
  std::uniform_int_distribution<int> few(1, 5);
  const int r = few(random);
  const int m = few(random) + 4;
  const auto draw = [&](int rows, int columns) {
    Eigen::MatrixXd x(rows, columns);
    for (Eigen::Index i = 0; i < x.size(); ++i) x(i) = normal(random);
    return x;
  };
  Program p;
  const Eigen::MatrixXd root = draw(r, r);
  p.c = root * root.transpose() + 0.1 * Eigen::MatrixXd::Identity(r, r);
  p.d = 3.0 * draw(r, 1);
  p.a = draw(r, m);
  p.b = draw(m, 1);
  if (normal(random) > 0.0) p.b = p.b.cwiseAbs();  // feasible at 0
  if (m > 2 && normal(random) > 0.0) {             // dependent: a pair of fixed sum, as a section
    p.a.col(1) = -p.a.col(0);
    p.b(1) = 1.0 - p.b(0);
  }
  return p;
}

std::optional<Eigen::VectorXd> enumerate(const Program& p) {
  const Eigen::Index r = p.c.rows();
  const Eigen::Index m = p.b.size();
  for (unsigned set = 0; set < (1U << m); ++set) {
    std::vector<Eigen::Index> active;
    for (Eigen::Index i = 0; i < m; ++i) {
      if ((set >> i & 1U) != 0U) active.push_back(i);
    }
    const auto k = static_cast<Eigen::Index>(active.size());
    if (k > r) continue;
    Eigen::MatrixXd kkt = Eigen::MatrixXd::Zero(r + k, r + k);
    Eigen::VectorXd rhs(r + k);
    kkt.topLeftCorner(r, r) = p.c;
    rhs.head(r) = p.d;
    for (Eigen::Index i = 0; i < k; ++i) {
      const Eigen::Index at = active[static_cast<std::size_t>(i)];
      kkt.col(r + i).head(r) = -p.a.col(at);
      kkt.row(r + i).head(r) = p.a.col(at).transpose();
      rhs(r + i) = -p.b(at);
    }
    const Eigen::FullPivLU<Eigen::MatrixXd> lu(kkt);
    if (!lu.isInvertible()) continue;
    const Eigen::VectorXd x = lu.solve(rhs);
    const double noise = 1e-12 * (1.0 + x.cwiseAbs().maxCoeff());
    if (k > 0 && x.tail(k).minCoeff() < -noise) continue;
    if ((p.a.transpose() * x.head(r) + p.b).minCoeff() < -noise) continue;
    return Eigen::VectorXd(x.head(r));
  }
  return std::nullopt;
}

TEST(ContactQp, FindsWhatExhaustiveEnumerationFinds) {
  std::mt19937_64 random(20240611);
  int infeasible = 0;
  int most_steps = 0;
  for (int round = 0; round < 5000; ++round) {
    const Program p = random_program(random);
    const QpSolution got = solve_contact_qp(p.c, p.d, p.a, p.b);
    const std::optional<Eigen::VectorXd> expected = enumerate(p);
    most_steps = std::max(most_steps, got.steps);
    if (!expected) {
      ++infeasible;
      EXPECT_EQ(got.status, ContactStatus::infeasible) << "round " << round;
      EXPECT_GE(got.blocking, 0);
      continue;
    }
    ASSERT_EQ(got.status, ContactStatus::solved) << "round " << round;
    ASSERT_LE((got.q - *expected).cwiseAbs().maxCoeff(),
              1e-8 * (1.0 + expected->cwiseAbs().maxCoeff()))
        << "round " << round;
    ASSERT_GE(got.multiplier.minCoeff(), 0.0);
    ASSERT_LE((p.c * got.q - p.d - p.a * got.multiplier).cwiseAbs().maxCoeff(),
              1e-9 * (1.0 + p.d.cwiseAbs().maxCoeff() + (p.a * got.multiplier).norm()));
    for (const int i : got.active) {
      ASSERT_NEAR(p.a.col(i).dot(got.q) + p.b(i), 0.0, 1e-9 * (1.0 + got.q.norm()));
    }
  }
  EXPECT_GT(infeasible, 100);
  EXPECT_LT(infeasible, 4000);
  EXPECT_LT(most_steps, 100);  // the bound of steps is far away
}

TEST(DualActiveSet, FindsWhatExhaustiveEnumerationFindsFromAnyGuess) {
  std::mt19937_64 random(77);
  int infeasible = 0;
  for (int round = 0; round < 5000; ++round) {
    const Program p = random_program(random);
    const auto r = static_cast<int>(p.d.size());
    const auto m = static_cast<int>(p.b.size());
    const Eigen::MatrixXd inverse = p.c.inverse();
    const Eigen::VectorXd free = inverse * p.d;
    std::vector<int> guess;
    for (int i = 0; i < m && static_cast<int>(guess.size()) < r; ++i) {
      if (random() % 2 == 0) guess.push_back(i);
    }
    DualActiveSet solver(r, m);
    // C^-1 is symmetric; columns of A are the normals, one after the other.
    const DualStatus status =
        solver.solve(inverse.data(), p.a.data(), p.b.data(), free.data(), guess);
    const std::optional<Eigen::VectorXd> expected = enumerate(p);
    if (!expected) {
      ++infeasible;
      EXPECT_EQ(status, DualStatus::infeasible) << "round " << round;
      continue;
    }
    ASSERT_EQ(status, DualStatus::solved) << "round " << round;
    for (int i = 0; i < r; ++i) {
      ASSERT_NEAR(solver.q()[static_cast<std::size_t>(i)], (*expected)(i),
                  1e-7 * (1.0 + expected->norm()))
          << "round " << round;
    }
  }
  EXPECT_GT(infeasible, 100);
}

TEST(ContactQp, LeavesAnOpenMinimumAlone) {
  const QpSolution got =
      solve_contact_qp(2.0 * Eigen::MatrixXd::Identity(2, 2), Eigen::Vector2d(2.0, 4.0),
                       Eigen::MatrixXd::Identity(2, 2), Eigen::Vector2d(1.0, 1.0));
  EXPECT_EQ(got.steps, 0);
  EXPECT_TRUE(got.active.empty());
  EXPECT_NEAR(got.q(0), 1.0, 1e-15);
  EXPECT_NEAR(got.q(1), 2.0, 1e-15);
}

TEST(ContactQp, SaysWhichInequalityCanNotBeMet) {
  // q >= 1 and -q >= 0.
  Eigen::MatrixXd a(1, 2);
  a << 1.0, -1.0;
  const QpSolution got = solve_contact_qp(Eigen::MatrixXd::Identity(1, 1), Eigen::VectorXd::Zero(1),
                                          a, Eigen::Vector2d(-1.0, 0.0));
  EXPECT_EQ(got.status, ContactStatus::infeasible);
  EXPECT_GE(got.blocking, 0);
}

TEST(ContactQp, WithoutRedundantsIsFeasibleOrNot) {
  const Eigen::MatrixXd none(0, 0);
  const Eigen::MatrixXd a(0, 2);
  EXPECT_EQ(solve_contact_qp(none, Eigen::VectorXd(0), a, Eigen::Vector2d(1.0, 0.0)).status,
            ContactStatus::solved);
  EXPECT_EQ(solve_contact_qp(none, Eigen::VectorXd(0), a, Eigen::Vector2d(1.0, -1.0)).status,
            ContactStatus::infeasible);
}

TEST(ContactQp, RefusesWhatIsNoProgram) {
  const Eigen::MatrixXd one = Eigen::MatrixXd::Identity(1, 1);
  const Eigen::VectorXd zero = Eigen::VectorXd::Zero(1);
  EXPECT_THROW(static_cast<void>(solve_contact_qp(-one, zero, one, zero)), std::invalid_argument);
  EXPECT_THROW(static_cast<void>(solve_contact_qp(one, Eigen::VectorXd::Zero(2), one, zero)),
               std::invalid_argument);
  EXPECT_THROW(static_cast<void>(solve_contact_qp(one, zero, Eigen::MatrixXd::Zero(2, 1), zero)),
               std::invalid_argument);
  const double nan = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(static_cast<void>(solve_contact_qp(one, nan * one, one, zero)),
               std::invalid_argument);
}

}  // namespace
}  // namespace weighwright::statics::tests
