#pragma once
/// The contact problem on the redundants: a strictly convex quadratic program that always ends.
///
/// Solve   min 1/2 q' C q - d' q   subject to   A' q + b >= 0   (contact forces A' q + b)
/// by the dual active-set method of Goldfarb & Idnani (Math. Programming 27, 1983): every full step
/// raises the dual objective strictly, so no active set comes twice and it ends in finitely many
/// steps (their theorem 3); a hard bound of steps is kept as well. Infeasible means: something
/// would have to pull.

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "statics/model.h"

namespace weighwright::statics {

enum class ContactStatus { solved, infeasible, step_limit };

struct QpSolution {
  ContactStatus status = ContactStatus::solved;
  Eigen::VectorXd q;           // r
  Eigen::VectorXd multiplier;  // one per inequality, >= 0; the open gap (m) here
  std::vector<int> active;     // inequalities held at zero
  int steps = 0;
  int blocking = -1;  // when infeasible: the inequality that can not be met
};

/// @param c_m_per_N   C, r x r, symmetric positive definite
/// @param d_m         r
/// @param a           A, r x m (columns are the inequalities)
/// @param b_N         m
/// A contact force within 1e-12 of the largest force counts as not pulling.
/// @throws std::invalid_argument when sizes do not agree, an entry is not finite, or C is not
/// positive
///         definite
[[nodiscard]] QpSolution solve_contact_qp(const Eigen::MatrixXd& c_m_per_N,
                                          const Eigen::VectorXd& d_m,
                                          const Eigen::MatrixXd& a,
                                          const Eigen::VectorXd& b_N);

/// Forces and gaps of a whole deck.
struct ContactState {
  ContactStatus status = ContactStatus::solved;
  Eigen::VectorXd contact_N;  // m, >= 0
  Eigen::VectorXd gap_m;      // m, >= 0: air at a contact that carries nothing
  Eigen::VectorXd stand_N;    // s
  std::vector<int> open;      // contacts that carry nothing
  std::string what;           // why not, when it is not solved
};

/// @param heights_m  s, height of every stand top above one straight level line, up positive
/// Section sums are exact (from statics) wherever statics alone fixes them.
[[nodiscard]] ContactState solve_contact(const Model& model,
                                         const LoadCase& load,
                                         const Eigen::VectorXd& heights_m,
                                         const Scales& scales);

/// dF/dh, s x s (N/m), at a contact state, contacts as found: a stand that carries nothing has a
/// zero row and column. Symmetric; rows and columns sum to zero.
[[nodiscard]] Eigen::MatrixXd influence(const Model& model,
                                        const ContactState& state,
                                        const Scales& scales);

/// A load case that is the sum of two.
[[nodiscard]] LoadCase add(const LoadCase& a, const LoadCase& b);

/// A load case times a factor.
[[nodiscard]] LoadCase scale(const LoadCase& load, double factor);

}  // namespace weighwright::statics
