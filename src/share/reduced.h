#pragma once
/// A deck seen through its redundants: what the readings of its stands can tell, and nothing more.
///
/// The stand forces split exactly into two orthogonal parts: the determinate part, which statics
/// fixes whatever anyone turns (section sums and the roll moment of a hinged chain), and N_s q, the
/// part that screws change (one number a module of a hinged chain). With N orthonormal over the
/// stands q is read off a set of readings with no stiffness known.
///
/// Source  force method on redundants (statics/model.h); split: orthogonal projection.
///         docs/theory/share.md.

#include <Eigen/Core>
#include <vector>

#include "deck/deck.h"
#include "statics/model.h"

namespace weighwright::share {

/// Sizes: m contacts, s stands, r redundants, b bodies, n modules.
struct Reduced {
  int contacts = 0;
  int stands = 0;
  int redundants = 0;
  Eigen::MatrixXd contact_rows;      // N, m x r
  Eigen::MatrixXd stand_of_contact;  // T, s x m
  Eigen::MatrixXd stand_rows;        // N_s = T N, s x r, columns orthonormal
  Eigen::MatrixXd determinate;       // s x (s - r), orthonormal, orthogonal to N_s

  // Flexibility on the redundants, m/N, r x r: fixed + sum over parameters of piece / scale.
  // A parameter is the twist or the bending stiffness of one body, as a factor on what the deck
  // says.
  Eigen::MatrixXd c_fixed;
  struct Parameter {
    int body = 0;
    bool is_twist = true;
    double log_spread = 0.0;  // standard deviation of the logarithm of the factor
    Eigen::MatrixXd c;        // r x r
    Eigen::VectorXd dead_m;   // r: mismatch by dead load that goes with it
  };
  std::vector<Parameter> parameters;  // only those that have any effect
  struct Cross {
    int twist = -1;  // positions in `parameters`, -1: fixed at 1
    int bend = -1;
    Eigen::MatrixXd c;
  };
  std::vector<Cross> crosses;    // mixed parts of bodies that are not left-right symmetric
  Eigen::VectorXd dead_fixed_m;  // r

  // Belief of the mismatch H = N_s' h (m) before any reading.
  Eigen::VectorXd mismatch_mean_m;  // r
  Eigen::MatrixXd mismatch_cov_m2;  // r x r

  // Loads: three numbers a module (weight N, weight x lengthwise offset N m, weight x side offset N
  // m).
  Eigen::MatrixXd
      contact_per_load;       // m x 3n: determinate contact forces, orthogonal to N over stands
  Eigen::VectorXd load_mean;  // 3n, as described
  Eigen::VectorXd load_sd;    // 3n
  Eigen::VectorXd contact_dead_N;  // m: contact_per_load * load_mean
};

/// @param survey_m  s, surveyed stand tops at the first reading; NaN where none was surveyed; or
/// empty
[[nodiscard]] Reduced reduce(const deck::Deck& deck,
                             const statics::Model& model,
                             const Eigen::VectorXd& survey_m);

/// Flexibility on the redundants at given factors (one per parameter), r x r, m/N.
[[nodiscard]] Eigen::MatrixXd flexibility(const Reduced& reduced,
                                          const std::vector<double>& factor);

/// Mismatch by dead load at given factors, r, m.
[[nodiscard]] Eigen::VectorXd dead_mismatch(const Reduced& reduced,
                                            const std::vector<double>& factor);

}  // namespace weighwright::share
