#pragma once
/// Whether a measured error meets its limit, and how sure that is.
///
/// Source  JCGM 106:2012, 7.4 eq. (11) (conformance probability, normal), 8.2 (simple acceptance),
///         8.3.2 (guarded acceptance, w = r U), 9.5 (global risks); ILAC-G8:09/2019, 4.2 (decision
///         rules in words).

#include <functional>
#include <limits>

namespace weighwright::proof {

/// simple          pass or fail at the limit (ILAC-G8:09/2019, 4.2.1).
/// guarded         non-binary (4.2.3): pass within the limit less the guard band, conditional pass
///                 up to the limit, conditional fail up to the limit plus the guard band, fail.
/// guarded_binary  pass within the limit less the guard band, else not accepted (4.2.2).
enum class DecisionRule { simple, guarded, guarded_binary };

/// `not_accepted`: of a binary rule, within the limit and inside the guard band.
enum class Conformity { pass, conditional_pass, conditional_fail, fail, not_accepted };

struct Decision {
  Conformity conformity = Conformity::fail;
  bool accepted = false;       // by the rule
  double p_conforming = 0.0;   // probability that the true error is within the limit
  double p_false = 0.0;        // of being wrong with this verdict: 1 - p of a pass, conditional or
                               // not, else p
  double acceptance_kg = 0.0;  // limit less guard band; below 0 nothing can be accepted
  bool capable = false;        // U <= limit / 3 (8.2.3): simple acceptance is sound
};

/// By the rule; accepted is only what passes without condition. An error on the limit is within it;
/// a billionth of the limit is allowed for how the error was computed.
/// @param error_kg  estimated; limit_kg >= 0 (plus or minus); u_kg standard, > 0 or 0
/// @param r  guard band in U (1: false acceptance at most 2.3 %)
[[nodiscard]] Decision decide(double error_kg,
                              double limit_kg,
                              double u_kg,
                              double U_kg,
                              DecisionRule rule,
                              double r = 1.0,
                              double dof = std::numeric_limits<double>::infinity());

/// P(lower <= Y <= upper) for a normal Y.
[[nodiscard]] double p_within(double y, double u, double lower, double upper);
/// The same for a scaled t of `dof` > 0 degrees of freedom, so that chance and coverage factor
/// agree (JCGM 100:2008, G.3); normal where dof is infinite.
[[nodiscard]] double p_within(double y, double u, double lower, double upper, double dof);

/// Global risks of a two-sided tolerance for items N(y0, u0) measured with u_m.
struct Risks {
  double consumer = 0.0;  // accepted and not conforming
  double producer = 0.0;  // rejected and conforming
};
[[nodiscard]] Risks global_risks(double y0,
                                 double u0,
                                 double u_m,
                                 double lower,
                                 double upper,
                                 double accept_lower,
                                 double accept_upper);

struct Tolerance {
  double lower = 0.0;
  double upper = 0.0;
  double accept_lower = 0.0;
  double accept_upper = 0.0;
};
/// The same for items of any density between `from` and `to`.
[[nodiscard]] Risks global_risks(const std::function<double(double)>& density,
                                 double from,
                                 double to,
                                 double u_m,
                                 const Tolerance& tolerance);

}  // namespace weighwright::proof
