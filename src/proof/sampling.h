#pragma once
/// Draws of input quantities, in blocks.
///
/// Source  JCGM 101:2008, 6.4.2 to 6.4.9 and C.3 (distributions). Student's t as a normal over the
///         root of a chi-square; chi-square from gamma by Marsaglia & Tsang, ACM Trans. Math.
///         Softw. 26 (2000) 363-372. Normal by the inverse of its distribution function (chance/).
/// Repeats the same seed gives the same draws, however they are cut into blocks; every input has a
///         stream of its own, so a further input changes none of the others.

#include <cstdint>
#include <span>
#include <vector>

#include "chance/counter_random.h"
#include "proof/monte_carlo.h"

namespace weighwright::proof {

class Sampler {
 public:
  /// @pre u >= 0; dof > 0 where student
  Sampler(std::span<const Input> inputs, std::uint64_t seed);

  /// @param draws  inputs columnwise, draws[i * count + t]; of size inputs * count
  void draw(int count, std::span<double> draws);

 private:
  /// A standard deviation that is known from a few readings only.
  struct Spread {
    double dof;
    chance::CounterRandom random;
    std::vector<double> scales;
  };
  struct Column {
    Input input;
    chance::CounterRandom random;
    int spread;  // index; -1: none
  };

  void add_spread(Column& column, std::vector<int>& estimates, std::uint64_t seed);

  std::vector<Column> columns_;
  std::vector<Spread> spreads_;
};

}  // namespace weighwright::proof
