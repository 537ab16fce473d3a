#include "proof/budget.h"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <cstddef>
#include <map>
#include <utility>

namespace weighwright::proof {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kRectangularRest = 0.3;  // all other terms over the leading one
constexpr double kDropped = 0.1;          // of the last digit: as much may be rounded down
constexpr int kDigits = 2;

/// One estimated variance and how well it is known.
struct Estimate {
  double variance = 0.0;
  double dof = kInfinity;
};

/// Terms of one estimate are one variance (their squares summed); the others are one each.
std::vector<Estimate> estimates(const std::vector<Term>& terms) {
  std::vector<Estimate> all;
  std::map<int, Estimate> shared;
  for (const Term& term : terms) {
    Estimate& estimate = term.estimate == 0 ? all.emplace_back() : shared[term.estimate];
    estimate.variance += term.u_kg * term.u_kg;
    estimate.dof = std::min(estimate.dof, term.dof);
  }
  for (const auto& [number, estimate] : shared) all.push_back(estimate);
  return all;
}

/// JCGM 100:2008, eq. (G.2b).
double effective_dof(const std::vector<Term>& terms, double variance) {
  double sum = 0.0;
  for (const Estimate& estimate : estimates(terms)) {
    if (std::isfinite(estimate.dof)) {
      sum += estimate.variance * estimate.variance / estimate.dof;
    }
  }
  return sum > 0.0 ? variance * variance / sum : kInfinity;
}

/// Terms of one estimate are attacked together: the greatest stands for them.
void find_leading(Budget& budget, double variance) {
  std::map<int, double> shared;
  for (const Term& term : budget.terms) shared[term.estimate] += term.u_kg * term.u_kg;
  double most = 0.0;
  double most_alone = 0.0;
  for (std::size_t i = 0; i < budget.terms.size(); ++i) {
    const Term& term = budget.terms[i];
    const double alone = term.u_kg * term.u_kg;
    const double together = term.estimate == 0 ? alone : shared[term.estimate];
    if (together > most || (together == most && alone > most_alone)) {
      most = together;
      most_alone = alone;
      budget.leads = static_cast<int>(i);
    }
  }
  if (variance > 0.0) budget.leads_share = most / variance;
}

bool rectangular_leads(const Budget& budget, double variance) {
  if (budget.leads < 0) return false;
  const Term& leading = budget.terms[static_cast<std::size_t>(budget.leads)];
  if (leading.shape != Shape::rectangular) return false;
  const double own = leading.u_kg * leading.u_kg;
  return std::max(0.0, variance - own) <= kRectangularRest * kRectangularRest * own;
}

/// Half width of the middle `coverage` of a rectangle over its standard deviation, as it is
/// printed: two decimals.
double rectangular_factor(double coverage) {
  return std::round(100.0 * std::sqrt(3.0) * coverage) / 100.0;
}

}  // namespace

double coverage_factor(double dof, double coverage) {
  const double p = 0.5 + coverage / 2.0;
  if (!std::isfinite(dof)) return boost::math::quantile(boost::math::normal(), p);
  return boost::math::quantile(boost::math::students_t(dof), p);
}

Budget combine(std::vector<Term> terms, double coverage) {
  Budget budget;
  budget.terms = std::move(terms);
  budget.coverage = coverage;
  double variance = 0.0;
  for (const Term& term : budget.terms) variance += term.u_kg * term.u_kg;
  budget.u_kg = std::sqrt(variance);
  budget.dof = effective_dof(budget.terms, variance);
  find_leading(budget, variance);
  budget.rectangular = rectangular_leads(budget, variance);
  budget.k =
      budget.rectangular ? rectangular_factor(coverage) : coverage_factor(budget.dof, coverage);
  budget.U_kg = budget.k * budget.u_kg;
  return budget;
}

double u_of_step(double step) {
  return step / (2.0 * std::sqrt(3.0));
}

double u_of_limits(double half_width) {
  return half_width / std::sqrt(3.0);
}

Printed round_uncertainty(double U) {
  if (!(U > 0.0) || !std::isfinite(U)) return {};
  int exponent = static_cast<int>(std::floor(std::log10(U))) - (kDigits - 1);
  double digits = std::ceil(U / std::pow(10.0, exponent) - kDropped);
  if (digits >= std::pow(10.0, kDigits)) {
    digits = std::pow(10.0, kDigits - 1);
    ++exponent;
  }
  // Whole powers of ten divide exactly more often than they multiply: 12 / 100 is the double 0.12.
  const double value =
      exponent < 0 ? digits / std::pow(10.0, -exponent) : digits * std::pow(10.0, exponent);
  return {value, std::max(0, -exponent)};
}

}  // namespace weighwright::proof
