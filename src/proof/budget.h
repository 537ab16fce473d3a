#pragma once
/// Uncertainty budget: terms to a combined and an expanded uncertainty.
///
/// Source  JCGM 100:2008: 5.1.2 (combination), 4.3.7 (rectangular), F.2.2.1 (rounding), G.4.1
///         eq. (G.2b) (effective degrees of freedom), G.3 (Student's t), 7.2.6 (two digits).
///         Standards traced to one standard add linearly (5.2.2 Note 1): before a term is made.
/// Shared  terms that rest on one estimated standard deviation (`estimate` the same and not 0) add
///         as variances but count once in the degrees of freedom: their squares are summed before
///         the fourth power is taken (substitution chains).
/// Shape   where one rectangular term leads and all others together are at most 0.3 of it, k is the
///         rectangle's own, sqrt(3) p to two decimals: 1.65 at 95 % and at 95.45 % (EURAMET cg-18
///         v4.0, appendix B; from memory, unverified).
/// Leads   the term to attack; terms of one estimate are weighed together.

#include <limits>
#include <optional>
#include <string>
#include <vector>

namespace weighwright::proof {

enum class Shape { normal, rectangular, triangular, arcsine, student };

struct Term {
  std::string code;   // resolution_load, resolution_zero, repeatability, eccentricity, weights,
                      // weights_drift, buoyancy, convection, substitution, zero_not_read
  double u_kg = 0.0;  // standard uncertainty, >= 0
  double dof = std::numeric_limits<double>::infinity();
  Shape shape = Shape::normal;
  int estimate = 0;  // terms of the same number share one estimate; 0: its own
};

struct Budget {
  std::vector<Term> terms;  // as given
  double u_kg = 0.0;        // combined
  double dof = 0.0;         // effective; infinity where none is finite
  double k = 2.0;
  double U_kg = 0.0;  // expanded
  double coverage = 0.9545;
  bool rectangular = false;  // k by the leading rectangular term
  int leads = -1;            // index of the term to attack; -1: none
  double leads_share = 0.0;  // of the variance
};

/// @pre every u_kg finite and >= 0
[[nodiscard]] Budget combine(std::vector<Term> terms, double coverage = 0.9545);

/// Student's t for a two-sided coverage; dof not whole: interpolated by the distribution itself.
[[nodiscard]] double coverage_factor(double dof, double coverage);

/// Standard uncertainty of what is shown in steps (JCGM 100:2008, F.2.2.1): step / (2 sqrt 3).
[[nodiscard]] double u_of_step(double step);
/// Of what is only known to lie within +- half_width (4.3.7): half_width / sqrt 3.
[[nodiscard]] double u_of_limits(double half_width);

/// Rounds an expanded uncertainty up to two significant digits and gives the decimals to print its
/// value with (JCGM 100:2008, 7.2.6: 10.47 becomes 11). Less than a tenth of the last digit is
/// dropped, as there (28.05 becomes 28), which understates by 1 % at most. 0 and what is not finite
/// give 0.
struct Printed {
  double value = 0.0;
  int decimals = 0;
};
[[nodiscard]] Printed round_uncertainty(double U);

}  // namespace weighwright::proof
