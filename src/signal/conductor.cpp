#include "signal/conductor.h"

#include <array>
#include <cmath>
#include <stdexcept>

namespace weighwright::signal {
namespace {

struct Row {
  double area_mm2;
  double ohm_per_km;
};

// IEC 60228, class 5, plain copper, greatest resistance at 20 degC.
constexpr std::array<Row, 5> kClass5 = {
    {{0.5, 39.0}, {0.75, 26.0}, {1.0, 19.5}, {1.5, 13.3}, {2.5, 7.98}}};

// Areas are read from text in mm2: nearer than this is the same nominal area.
constexpr double kSameArea = 1e-6;

}  // namespace

double core_ohm_per_m(double area_m2) {
  if (!(area_m2 > 0.0) || !std::isfinite(area_m2)) {
    throw std::invalid_argument("area of a core must be more than 0");
  }
  for (const Row& row : kClass5) {
    if (std::abs(area_m2 * 1e6 / row.area_mm2 - 1.0) < kSameArea) return row.ohm_per_km * 1e-3;
  }
  return kCopperResistivity_ohm_m / area_m2;
}

double copper_factor(double degC) {
  return 1.0 + kCopper_per_K * (degC - 20.0);
}

double core_ohm(double length_m, double area_m2, double degC) {
  if (!(length_m >= 0.0) || !std::isfinite(length_m)) {
    throw std::invalid_argument("length of a cable must be 0 or more");
  }
  if (length_m == 0.0) return 0.0;
  return length_m * core_ohm_per_m(area_m2) * copper_factor(degC);
}

}  // namespace weighwright::signal
