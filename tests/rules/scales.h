#pragma once
/// Scales of the check values; all of them invented.

#include <string>
#include <utility>
#include <vector>

#include "rules/limits.h"
#include "rules/reading/read_rulebook.h"
#include "units/quantity.h"

namespace weighwright::rules::testing {

inline constexpr double kLb = units::kPound_kg;

inline Scale metric(std::string accuracy_class, double capacity_kg, double interval_kg) {
  Scale scale;
  scale.accuracy_class = std::move(accuracy_class);
  scale.capacity_kg = capacity_kg;
  scale.interval_kg = interval_kg;
  scale.supports = 6;
  scale.sections = 3;
  return scale;
}

inline Scale in_pounds(std::string accuracy_class, double capacity_lb, double interval_lb) {
  Scale scale = metric(std::move(accuracy_class), capacity_lb * kLb, interval_lb * kLb);
  scale.us = true;
  return scale;
}

inline const Rulebook& r76() {
  return built_in("R76");
}
inline const Rulebook& h44() {
  return built_in("H44");
}

inline double limit_kg(const Rulebook& rulebook,
                       const Scale& scale,
                       Occasion occasion,
                       double load_kg) {
  const auto limit = limit_at(rulebook, scale, occasion, load_kg);
  return limit ? limit->kg : -1.0;
}

inline std::vector<std::string> codes_of(const std::vector<ClassFault>& faults) {
  std::vector<std::string> codes;
  for (const ClassFault& fault : faults) codes.push_back(fault.code);
  return codes;
}

}  // namespace weighwright::rules::testing
