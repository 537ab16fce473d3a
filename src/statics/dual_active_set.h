#pragma once
/// The dual active-set method of Goldfarb & Idnani on small dense problems, with a warm start.
///
/// Solve   min 1/2 q' C q - d' q   subject to   a_i' q + b_i >= 0   for i = 0 .. m-1
/// given the inverse of C and the free minimum q0 = C^-1 d. Written for being called some hundred
/// thousand times on a few unknowns: no memory is taken after construction.
///
/// Source      Goldfarb & Idnani, Mathematical Programming 27 (1983) 1-33. In the form used here
/// the
///             iterate is the multiplier vector u of the active set S, q = q0 + C^-1 A_S u.
/// Termination every full step raises the dual objective strictly and leaves an optimum of the
///             subproblem on its active set, so no active set comes twice (their theorem 3);
///             between two full steps at most |S| constraints are dropped. A bound of 50 (m + r)
///             steps is kept against rounding; reaching it is reported, never hidden.

#include <vector>

namespace weighwright::statics {

enum class DualStatus { solved, infeasible, step_limit };

class DualActiveSet {
 public:
  /// @param unknowns     r >= 1
  /// @param constraints  m >= 0
  DualActiveSet(int unknowns, int constraints);

  /// @param inverse   C^-1, r x r, row after row
  /// @param normals   a_i, m x r, row after row
  /// @param offsets   b_i, m
  /// @param free      q0, r
  /// @param guess     active set to begin with (any; it is reduced until its multipliers are >= 0)
  /// After `solved`, q(), active() and multipliers() hold the answer.
  DualStatus solve(const double* inverse,
                   const double* normals,
                   const double* offsets,
                   const double* free,
                   const std::vector<int>& guess);

  [[nodiscard]] const std::vector<double>& q() const { return q_; }         // r
  [[nodiscard]] const std::vector<int>& active() const { return active_; }  // constraints
  [[nodiscard]] const std::vector<double>& multipliers() const {
    return multiplier_;
  }  // per active()
  [[nodiscard]] int steps() const { return steps_; }
  /// The constraint that can not be met, after `infeasible`.
  [[nodiscard]] int blocking() const { return blocking_; }

 private:
  void push(int constraint, double multiplier);
  void drop(std::size_t position);
  void start_from(const std::vector<int>& guess, const double* offsets, const double* free);
  bool factor();
  void back_substitute(std::vector<double>& x) const;
  void move_to(const double* free);
  [[nodiscard]] double value(int constraint, const double* offsets) const;
  [[nodiscard]] bool holds(const double* offsets, double scale) const;

  int r_;
  int m_;
  const double* inverse_ = nullptr;
  const double* normals_ = nullptr;
  std::vector<double> q_;
  std::vector<int> active_;
  std::vector<double> multiplier_;
  std::vector<double> image_;  // C^-1 a_i of every active constraint, r each
  std::vector<double> gram_;   // Cholesky factor of A_S' C^-1 A_S
  std::vector<double> direction_;
  std::vector<double> new_image_;
  std::vector<char> is_active_;
  int steps_ = 0;
  int blocking_ = -1;
};

}  // namespace weighwright::statics
