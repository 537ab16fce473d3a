#pragma once
/// Random numbers that are the same on every machine: a counter and a key, no hidden state.
///
/// Source   mixing function: Steele, Lea & Flood, "Fast splittable pseudorandom number generators",
///          OOPSLA 2014 (SplitMix64); normal quantile: Wichura, Algorithm AS 241 (PPND16), Applied
///          Statistics 37 (1988) 477-484, relative accuracy about 1e-16.
/// Why own  the distributions of the standard library differ between libraries, and a result of
/// this
///          tool must repeat.

#include <cstdint>
#include <string_view>

namespace weighwright::chance {

/// z with P(Z < z) = p for a standard normal Z. @pre 0 < p < 1
[[nodiscard]] double normal_quantile(double p);

/// P(Z < z) for a standard normal Z.
[[nodiscard]] double normal_probability(double z);

class CounterRandom {
 public:
  explicit CounterRandom(std::uint64_t key) : key_(key) {}

  [[nodiscard]] std::uint64_t bits();
  /// In (0, 1), never 0 or 1.
  [[nodiscard]] double uniform();
  [[nodiscard]] double normal() { return normal_quantile(uniform()); }
  /// 0 .. count-1. @pre count > 0
  [[nodiscard]] int below(int count);

 private:
  std::uint64_t key_;
  std::uint64_t counter_ = 0;
};

/// Point `index` of the Halton sequence in one dimension, shifted by `shift` modulo 1; in (0, 1).
/// Source: Halton, Numerische Mathematik 2 (1960) 84-90; shift: Cranley & Patterson 1976.
[[nodiscard]] double halton(std::uint64_t index, int dimension, double shift);

/// A running 64-bit hash (FNV-1a) of what the seed shall depend on.
class SeedHash {
 public:
  void add(double value);
  void add(std::string_view text);
  [[nodiscard]] std::uint64_t value() const { return value_; }

 private:
  std::uint64_t value_ = 0xcbf29ce484222325ULL;
};

}  // namespace weighwright::chance
