#include "proof/conformity.h"

#include <boost/math/distributions/students_t.hpp>
#include <cmath>

#include "chance/counter_random.h"

namespace weighwright::proof {
namespace {

constexpr double kNoise = 1e-9;  // of the limit: an error on the limit is within it
constexpr double kCapable = 3.0;

bool within(double value, double bound, double limit) {
  return bound >= 0.0 && std::abs(value) <= bound + kNoise * limit;
}

Conformity in_words(double error, double limit, double guard, DecisionRule rule) {
  if (within(error, limit - guard, limit)) return Conformity::pass;
  if (rule == DecisionRule::guarded_binary) {
    return within(error, limit, limit) ? Conformity::not_accepted : Conformity::fail;
  }
  if (within(error, limit, limit)) return Conformity::conditional_pass;
  if (within(error, limit + guard, limit)) return Conformity::conditional_fail;
  return Conformity::fail;
}

}  // namespace

double p_within(double y, double u, double lower, double upper) {
  if (!(u > 0.0)) return y >= lower && y <= upper ? 1.0 : 0.0;
  // Taken in the tail where the numbers are small, so that a chance of 1e-10 is not lost in 1 - 1.
  const double above = (lower - y) / u;
  const double below = (upper - y) / u;
  const double p = above > 0.0
                       ? chance::normal_probability(-above) - chance::normal_probability(-below)
                       : chance::normal_probability(below) - chance::normal_probability(above);
  return p > 0.0 ? p : 0.0;
}

double p_within(double y, double u, double lower, double upper, double dof) {
  if (!std::isfinite(dof) || !(u > 0.0)) return p_within(y, u, lower, upper);
  const boost::math::students_t t(dof);
  return boost::math::cdf(t, (upper - y) / u) - boost::math::cdf(t, (lower - y) / u);
}

Decision decide(double error_kg,
                double limit_kg,
                double u_kg,
                double U_kg,
                DecisionRule rule,
                double r,
                double dof) {
  const double guard = rule == DecisionRule::simple ? 0.0 : r * U_kg;
  Decision decision;
  decision.acceptance_kg = limit_kg - guard;
  decision.conformity = in_words(error_kg, limit_kg, guard, rule);
  decision.accepted = decision.conformity == Conformity::pass;
  decision.p_conforming = u_kg > 0.0 ? p_within(error_kg, u_kg, -limit_kg, limit_kg, dof)
                                     : (within(error_kg, limit_kg, limit_kg) ? 1.0 : 0.0);
  const bool passes = decision.accepted || decision.conformity == Conformity::conditional_pass;
  decision.p_false = passes ? 1.0 - decision.p_conforming : decision.p_conforming;
  decision.capable = U_kg * kCapable <= limit_kg * (1.0 + kNoise);
  return decision;
}

}  // namespace weighwright::proof
