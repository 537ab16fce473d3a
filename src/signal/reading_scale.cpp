#include <algorithm>
#include <cmath>

#include "signal/explanation.h"

namespace weighwright::signal {
namespace {

constexpr double kSmallest_ohm = 1.0;  // below it the scale is straight
constexpr double kSmallestInsulation_ohm = 1e3;
constexpr double kArmsDiffer = 0.002;  // arms of a sound bridge, compensation resistors in them
constexpr double kWidest_V = 0.05;     // signals
constexpr double kWidestSupply_V = 20.0;
constexpr double kOverRange_V = 0.2;        // a meter's range of mV ends there or higher
constexpr double kOverRangeSlope_V = 0.01;  // how fast a smaller prediction becomes unlikely

bool is_ohm(Quantity quantity) {
  return quantity < Quantity::insulation;
}

bool is_across_arm(Quantity quantity) {
  return is_ohm(quantity) && quantity != Quantity::input && quantity != Quantity::output;
}

bool is_supply(Quantity quantity) {
  return quantity == Quantity::excitation || quantity == Quantity::sense;
}

}  // namespace

bool ReadingScale::overload(Quantity quantity, double reading) const {
  return is_ohm(quantity) && reading >= meter_.overload_ohm;
}

double ReadingScale::value(Quantity quantity, double reading) const {
  if (is_ohm(quantity)) {
    return std::log(std::clamp(reading, 0.0, meter_.overload_ohm) + kSmallest_ohm);
  }
  if (quantity == Quantity::insulation) {
    return std::log(std::clamp(reading, 0.0, meter_.insulation_most_ohm) + kSmallestInsulation_ohm);
  }
  return reading;
}

double ReadingScale::uncertainty(Quantity quantity, double reading) const {
  if (is_ohm(quantity)) {
    const double share =
        is_across_arm(quantity) ? std::hypot(meter_.ohm_share, kArmsDiffer) : meter_.ohm_share;
    return std::hypot(share * std::min(reading, meter_.overload_ohm), meter_.ohm_least);
  }
  if (quantity == Quantity::insulation) {
    return meter_.insulation_factor *
           (std::min(reading, meter_.insulation_most_ohm) + kSmallestInsulation_ohm);
  }
  if (std::isinf(reading)) return kOverRange_V;
  return std::hypot(meter_.volt_share * reading, meter_.volt_least);
}

double ReadingScale::deviation(Quantity quantity, double reading) const {
  if (overload(quantity, reading)) return 1.0;  // any open circuit will do
  if (is_ohm(quantity)) return uncertainty(quantity, reading) / (reading + kSmallest_ohm);
  if (quantity == Quantity::insulation) return meter_.insulation_factor;
  return uncertainty(quantity, reading);
}

double ReadingScale::apart(Quantity quantity, double predicted, double measured) const {
  if (quantity >= Quantity::zero && std::isinf(measured)) {
    return std::max(kOverRange_V - std::abs(predicted), 0.0) / kOverRangeSlope_V;
  }
  return (value(quantity, predicted) - value(quantity, measured)) / deviation(quantity, measured);
}

double ReadingScale::width(Quantity quantity) const {
  if (is_ohm(quantity)) return std::log(meter_.overload_ohm);
  if (quantity == Quantity::insulation) {
    return std::log(meter_.insulation_most_ohm / kSmallestInsulation_ohm);
  }
  return is_supply(quantity) ? kWidestSupply_V : kWidest_V;
}

}  // namespace weighwright::signal
