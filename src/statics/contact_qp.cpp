/// Dual active-set method for strictly convex quadratic programs.
///
/// Source  D. Goldfarb, A. Idnani, "A numerically stable dual method for solving strictly convex
///         quadratic programs", Mathematical Programming 27 (1983) 1-33; notation J, R, z, r, t1,
///         t2 of its section 4. Why it ends: docs/theory/statics.md.

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <stdexcept>
#include <string>

#include "statics/contact.h"

namespace weighwright::statics {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();
// A normal whose part outside the active ones is smaller than this (in the metric of C) depends on
// them: rounding gives about 1e-15 times the condition of C.
constexpr double kDependent = 1e-9;

void require(bool holds, const std::string& what) {
  if (!holds) throw std::invalid_argument("solve_contact_qp: " + what);
}

/// Active set with J' N_active = [R; 0], J J' = C^-1.
class ActiveSet {
 public:
  ActiveSet(const Eigen::MatrixXd& c,
            const Eigen::VectorXd& d,
            const Eigen::MatrixXd& a,
            const Eigen::VectorXd& b)
      : a_(a), b_(b), r_(Eigen::MatrixXd::Zero(c.rows(), c.rows())) {
    const Eigen::LLT<Eigen::MatrixXd> factor(c);
    require(factor.info() == Eigen::Success, "C is not positive definite");
    j_ = factor.matrixU().solve(Eigen::MatrixXd::Identity(c.rows(), c.cols()));
    jd_ = j_.transpose() * d;
    place();
  }

  [[nodiscard]] int size() const { return static_cast<int>(active_.size()); }
  [[nodiscard]] const std::vector<int>& active() const { return active_; }
  [[nodiscard]] const Eigen::VectorXd& q() const { return q_; }
  [[nodiscard]] const Eigen::VectorXd& multiplier() const { return u_; }
  [[nodiscard]] double force(int p) const { return a_.col(p).dot(q_) + b_(p); }
  [[nodiscard]] bool holds(int p) const {
    return std::find(active_.begin(), active_.end(), p) != active_.end();
  }

  /// Minimum on the active set, straight from the factors: rounding does not build up over steps.
  void place() {
    const Eigen::Index k = size();
    Eigen::VectorXd y = jd_;
    Eigen::VectorXd rhs(k);
    for (Eigen::Index i = 0; i < k; ++i) rhs(i) = -b_(active_[static_cast<std::size_t>(i)]);
    const auto triangle = r_.topLeftCorner(k, k);
    if (k > 0) {
      y.head(k) = triangle.transpose().triangularView<Eigen::Lower>().solve(rhs);
      u_ = triangle.triangularView<Eigen::Upper>().solve(y.head(k) - jd_.head(k));
      u_ = u_.cwiseMax(0.0);  // below zero by rounding only, see the proof
    } else {
      u_.resize(0);
    }
    q_ = j_ * y;
  }

  struct Step {
    Eigen::VectorXd d;  // J' n
    Eigen::VectorXd r;  // change of multipliers
    bool dependent = false;
    double along = 0.0;  // z' n
  };
  [[nodiscard]] Step step(int p) const {
    const Eigen::Index k = size();
    Step s;
    s.d = j_.transpose() * a_.col(p);
    s.r = r_.topLeftCorner(k, k).triangularView<Eigen::Upper>().solve(s.d.head(k));
    s.along = s.d.tail(s.d.size() - k).squaredNorm();
    s.dependent = s.along <= kDependent * kDependent * s.d.squaredNorm();
    return s;
  }

  void move(const Step& s, double t) {
    const Eigen::Index k = size();
    if (!s.dependent) q_ += t * (j_.rightCols(s.d.size() - k) * s.d.tail(s.d.size() - k));
    u_ -= t * s.r;
  }

  void add(int p, Eigen::VectorXd d) {
    const Eigen::Index k = size();
    for (Eigen::Index i = d.size() - 1; i > k; --i) {
      turn(d(i - 1), d(i), [&](double c, double s) { turn_columns(i - 1, c, s); });
    }
    r_.col(k) = d;
    active_.push_back(p);
    place();
  }

  void drop(int position) {
    const Eigen::Index k = size();
    for (Eigen::Index column = position; column + 1 < k; ++column) {
      r_.col(column) = r_.col(column + 1);
    }
    r_.col(k - 1).setZero();
    active_.erase(active_.begin() + position);
    Eigen::VectorXd u(k - 1);
    u << u_.head(position), u_.tail(k - 1 - position);
    u_ = u;
    for (Eigen::Index i = position; i + 1 < k; ++i) {
      turn(r_(i, i), r_(i + 1, i), [&](double c, double s) {
        for (Eigen::Index column = i + 1; column + 1 < k; ++column) {
          const double upper = r_(i, column);
          const double lower = r_(i + 1, column);
          r_(i, column) = c * upper + s * lower;
          r_(i + 1, column) = c * lower - s * upper;
        }
        turn_columns(i, c, s);
      });
    }
  }

 private:
  // Givens rotation that puts (a, b) into (length, 0), applied elsewhere too.
  template <class Apply>
  void turn(double& a, double& b, const Apply& apply) {
    if (b == 0.0) return;
    const double length = std::hypot(a, b);
    const double c = a / length;
    const double s = b / length;
    a = length;
    b = 0.0;
    apply(c, s);
  }

  // J Q' for the rotation of rows i, i + 1 of J' n; the same for J' d.
  void turn_columns(Eigen::Index i, double c, double s) {
    const Eigen::VectorXd left = j_.col(i);
    j_.col(i) = c * left + s * j_.col(i + 1);
    j_.col(i + 1) = c * j_.col(i + 1) - s * left;
    const double upper = jd_(i);
    jd_(i) = c * upper + s * jd_(i + 1);
    jd_(i + 1) = c * jd_(i + 1) - s * upper;
  }

  const Eigen::MatrixXd& a_;
  const Eigen::VectorXd& b_;
  Eigen::MatrixXd j_;
  Eigen::MatrixXd r_;
  Eigen::VectorXd jd_;
  Eigen::VectorXd q_;
  Eigen::VectorXd u_;
  std::vector<int> active_;
};

int most_pulling(const ActiveSet& set, Eigen::Index count, double tolerance) {
  int worst = -1;
  double least = -tolerance;
  for (int p = 0; p < count; ++p) {
    if (set.holds(p)) continue;
    const double force = set.force(p);
    if (force < least) {
      least = force;
      worst = p;
    }
  }
  return worst;
}

enum class Outcome { met, impossible, too_many };

// Steps until inequality p holds: partial steps drop what blocks, a full step adds p.
Outcome meet(ActiveSet& set, int p, int& steps, int bound) {
  while (true) {
    if (++steps > bound) return Outcome::too_many;
    const ActiveSet::Step s = set.step(p);
    double t1 = kInfinite;
    int blocking = -1;
    for (int i = 0; i < set.size(); ++i) {
      if (s.r(i) <= 0.0) continue;
      const double t = set.multiplier()(i) / s.r(i);
      if (t < t1) {
        t1 = t;
        blocking = i;
      }
    }
    const double t2 = s.dependent ? kInfinite : std::max(0.0, -set.force(p) / s.along);
    const double t = std::min(t1, t2);
    if (t == kInfinite) return Outcome::impossible;
    set.move(s, t);
    if (t2 <= t1) {
      set.add(p, s.d);
      return Outcome::met;
    }
    set.drop(blocking);
  }
}

void check(const Eigen::MatrixXd& c,
           const Eigen::VectorXd& d,
           const Eigen::MatrixXd& a,
           const Eigen::VectorXd& b) {
  require(c.rows() == c.cols() && d.size() == c.rows(), "C must be r x r and d of size r");
  require(a.rows() == c.rows() && a.cols() == b.size(), "A must be r x m and b of size m");
  require(c.allFinite() && d.allFinite() && a.allFinite() && b.allFinite(),
          "every entry must be finite");
}

}  // namespace

QpSolution solve_contact_qp(const Eigen::MatrixXd& c_m_per_N,
                            const Eigen::VectorXd& d_m,
                            const Eigen::MatrixXd& a,
                            const Eigen::VectorXd& b_N) {
  check(c_m_per_N, d_m, a, b_N);
  ActiveSet set(c_m_per_N, d_m, a, b_N);
  const Eigen::Index m = b_N.size();
  const double largest =
      m == 0 ? 0.0
             : b_N.cwiseAbs().maxCoeff() + 0.1 * (a.transpose() * set.q()).cwiseAbs().maxCoeff();
  const double tolerance = 1e-12 * largest;
  const int bound = 1000 + 100 * static_cast<int>(m);
  QpSolution solution;
  while (true) {
    const int p = most_pulling(set, m, tolerance);
    if (p < 0) break;
    const Outcome outcome = meet(set, p, solution.steps, bound);
    if (outcome == Outcome::met) continue;
    solution.status =
        outcome == Outcome::impossible ? ContactStatus::infeasible : ContactStatus::step_limit;
    solution.blocking = p;
    break;
  }
  solution.q = set.q();
  solution.active = set.active();
  solution.multiplier = Eigen::VectorXd::Zero(m);
  for (std::size_t i = 0; i < solution.active.size(); ++i) {
    solution.multiplier(solution.active[i]) = set.multiplier()(static_cast<Eigen::Index>(i));
  }
  std::sort(solution.active.begin(), solution.active.end());
  return solution;
}

}  // namespace weighwright::statics
