#pragma once
/// The whole model of a load that was built up by substitution, for the test and the bench of the
/// Monte Carlo method. The figures are invented: 60 t on a deck with 10 t of class M1 weights, six
/// steps, read to 1 kg, repeatability 0.9 kg, eccentricity 1.5e-4 of the load at most (untrimmed)
/// or a third of that (trimmed).
///
///     E = I_6 - I_0 + dI_ecc - (6 m + dm_drift + dm_buoyancy + sum (I_sub,j - I_w,j), j = 1 .. 5)
///
/// every I with a rounding and a repeatability of its own (EURAMET cg-18, from memory, unverified;
/// pieces in JCGM 100:2008, F.2.2.1, 4.3.7, 5.1.2, 5.2.2 Note 1).

#include <cmath>
#include <cstddef>
#include <span>
#include <vector>

#include "proof/budget.h"
#include "proof/monte_carlo.h"

namespace weighwright::proof::weighing {

inline constexpr int kSteps = 6;
inline constexpr double kWeights_kg = 10000.0;
inline constexpr double kIndicated_kg = 60014.0;
inline constexpr double kReference_kg = 59998.0;
inline constexpr double kError_kg = kIndicated_kg - kReference_kg;
inline constexpr double kStep_kg = 1.0;
inline constexpr double kRepeatability_kg = 0.9;
inline constexpr double kClass = 5e-5;  // of M1, OIML R 111-1:2004, table 1
inline constexpr double kUntrimmed = 1.5e-4;
inline constexpr double kTrimmed = 0.5e-4;

/// What is uncertain, its coefficient in E.
struct Part {
  Input input;
  double coefficient = 1.0;
};

inline Input rounding() {
  return {.shape = Shape::rectangular, .mean = 0.0, .u = u_of_step(kStep_kg)};
}

/// @param dof  of the repeatability; 0: it is known
inline Input repeat(int dof) {
  if (dof == 0) return {.shape = Shape::normal, .mean = 0.0, .u = kRepeatability_kg};
  return {.shape = Shape::student,
          .mean = 0.0,
          .u = kRepeatability_kg,
          .dof = static_cast<double>(dof),
          .estimate = 1};
}

inline std::vector<Part> parts(int dof, double eccentric = kTrimmed) {
  const double u_buoyancy = 0.1 * 1.2 / 8000 / std::sqrt(3.0) + kClass / (4 * std::sqrt(3.0));
  std::vector<Part> all = {
      {rounding(), 1.0},
      {rounding(), -1.0},
      {repeat(dof), 1.0},
      {{.shape = Shape::rectangular, .mean = 0.0, .u = u_of_limits(eccentric)}, kIndicated_kg},
      {{.shape = Shape::rectangular, .mean = 0.0, .u = kWeights_kg * u_of_limits(kClass)}, -kSteps},
      {{.shape = Shape::normal, .mean = 0.0, .u = u_buoyancy}, -kSteps * kWeights_kg}};
  for (int step = 1; step < kSteps; ++step) {
    for (const double sign : {1.0, -1.0}) {
      all.push_back({rounding(), -sign});
      all.push_back({repeat(dof), -sign});
    }
  }
  return all;
}

inline std::vector<Input> inputs(const std::vector<Part>& parts) {
  std::vector<Input> all;
  for (const Part& part : parts) all.push_back(part.input);
  return all;
}

inline Budget analytic(const std::vector<Part>& parts, double coverage) {
  std::vector<Term> terms;
  for (const Part& part : parts) {
    Term term;
    term.u_kg = std::abs(part.coefficient) * part.input.u;
    if (part.input.shape == Shape::student) term.dof = part.input.dof;
    term.shape = part.input.shape;
    term.estimate = part.input.estimate;
    terms.push_back(term);
  }
  return combine(std::move(terms), coverage);
}

/// The error, columnwise over a block.
inline void error(const std::vector<Part>& parts,
                  std::span<const double> draws,
                  int count,
                  std::span<double> out) {
  const auto size = static_cast<std::size_t>(count);
  for (double& value : out) value = kError_kg;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const std::span<const double> column = draws.subspan(i * size, size);
    for (std::size_t t = 0; t < size; ++t) out[t] += parts[i].coefficient * column[t];
  }
}

}  // namespace weighwright::proof::weighing
