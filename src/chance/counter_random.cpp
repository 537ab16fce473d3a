#include "chance/counter_random.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>

namespace weighwright::chance {
namespace {

constexpr std::array<int, 24> kPrimes = {2,  3,  5,  7,  11, 13, 17, 19, 23, 29, 31, 37,
                                         41, 43, 47, 53, 59, 61, 67, 71, 73, 79, 83, 89};

double ratio(const std::array<double, 8>& above, const std::array<double, 8>& below, double x) {
  double numerator = 0.0;
  double denominator = 0.0;
  for (std::size_t i = above.size(); i-- > 0;) {
    numerator = numerator * x + above[i];
    denominator = denominator * x + below[i];
  }
  return numerator / denominator;
}

// Coefficients of AS 241, PPND16: centre, middle and far tail.
constexpr std::array<double, 8> kA = {3.3871328727963666080e0,  1.3314166789178437745e+2,
                                      1.9715909503065514427e+3, 1.3731693765509461125e+4,
                                      4.5921953931549871457e+4, 6.7265770927008700853e+4,
                                      3.3430575583588128105e+4, 2.5090809287301226727e+3};
constexpr std::array<double, 8> kB = {1.0,
                                      4.2313330701600911252e+1,
                                      6.8718700749205790830e+2,
                                      5.3941960214247511077e+3,
                                      2.1213794301586595867e+4,
                                      3.9307895800092710610e+4,
                                      2.8729085735721942674e+4,
                                      5.2264952788528545610e+3};
constexpr std::array<double, 8> kC = {1.42343711074968357734e0,  4.63033784615654529590e0,
                                      5.76949722146069140550e0,  3.64784832476320460504e0,
                                      1.27045825245236838258e0,  2.41780725177450611770e-1,
                                      2.27238449892691845833e-2, 7.74545014278341407640e-4};
constexpr std::array<double, 8> kD = {1.0,
                                      2.05319162663775882187e0,
                                      1.67638483018380384940e0,
                                      6.89767334985100004550e-1,
                                      1.48103976427480074590e-1,
                                      1.51986665636164571966e-2,
                                      5.47593808499534494600e-4,
                                      1.05075007164441684324e-9};
constexpr std::array<double, 8> kE = {6.65790464350110377720e0,  5.46378491116411436990e0,
                                      1.78482653991729133580e0,  2.96560571828504891230e-1,
                                      2.65321895265761230930e-2, 1.24266094738807843860e-3,
                                      2.71155556874348757815e-5, 2.01033439929228813265e-7};
constexpr std::array<double, 8> kF = {1.0,
                                      5.99832206555887937690e-1,
                                      1.36929880922735805310e-1,
                                      1.48753612908506148525e-2,
                                      7.86869131145613259100e-4,
                                      1.84631831751005468180e-5,
                                      1.42151175831644588870e-7,
                                      2.04426310338993978564e-15};

}  // namespace

double normal_quantile(double p) {
  const double q = p - 0.5;
  if (std::abs(q) <= 0.425) return q * ratio(kA, kB, 0.180625 - q * q);
  double r = std::sqrt(-std::log(q < 0.0 ? p : 1.0 - p));
  r = r <= 5.0 ? ratio(kC, kD, r - 1.6) : ratio(kE, kF, r - 5.0);
  return q < 0.0 ? -r : r;
}

double normal_probability(double z) {
  return 0.5 * std::erfc(-z / std::sqrt(2.0));
}

std::uint64_t CounterRandom::bits() {
  std::uint64_t z = key_ + (++counter_) * 0x9e3779b97f4a7c15ULL;
  z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9ULL;
  z = (z ^ (z >> 27U)) * 0x94d049bb133111ebULL;
  return z ^ (z >> 31U);
}

double CounterRandom::uniform() {
  return (static_cast<double>(bits() >> 12U) + 0.5) * 0x1.0p-52;
}

int CounterRandom::below(int count) {
  return std::min(count - 1, static_cast<int>(uniform() * static_cast<double>(count)));
}

double halton(std::uint64_t index, int dimension, double shift) {
  const auto base =
      static_cast<std::uint64_t>(kPrimes[static_cast<std::size_t>(dimension) % kPrimes.size()]);
  double digit = 1.0;
  double value = 0.0;
  for (std::uint64_t i = index + 1; i > 0; i /= base) {
    digit /= static_cast<double>(base);
    value += digit * static_cast<double>(i % base);
  }
  value += shift;
  value -= std::floor(value);
  return std::clamp(value, 0x1.0p-53, 1.0 - 0x1.0p-53);
}

void SeedHash::add(double value) {
  auto bits = std::bit_cast<std::uint64_t>(value);
  for (int i = 0; i < 8; ++i, bits >>= 8U) {
    value_ = (value_ ^ (bits & 0xffU)) * 0x100000001b3ULL;
  }
}

void SeedHash::add(std::string_view text) {
  for (const char c : text) {
    value_ = (value_ ^ static_cast<unsigned char>(c)) * 0x100000001b3ULL;
  }
}

}  // namespace weighwright::chance
