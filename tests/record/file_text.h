#pragma once
/// Files of measurements as text, for tests.

#include <gtest/gtest.h>

#include <string>
#include <variant>

#include "record/csv.h"

namespace weighwright::record::testing {

/// The set of a file that must be sound and of this kind.
template <class Set>
Set read(const std::string& text, int sections = 2, int joints = 1) {
  const ParsedMeasurement parsed = parse_measurement(text, "file.csv", sections, joints);
  for (const units::Diagnostic& fault : parsed.faults) ADD_FAILURE() << units::print(fault);
  if (!parsed.value) return {};
  const Set* const set = std::get_if<Set>(&*parsed.value);
  if (set == nullptr) {
    ADD_FAILURE() << "another kind of file: " << text;
    return {};
  }
  return *set;
}

inline std::string faults_of(const std::string& text, int sections = 2, int joints = 1) {
  const ParsedMeasurement parsed = parse_measurement(text, "file.csv", sections, joints);
  EXPECT_FALSE(parsed.value.has_value()) << text;
  std::string all;
  for (const units::Diagnostic& fault : parsed.faults) all += units::print(fault) + "\n";
  return all;
}

inline void expect_fault(const std::string& text, const std::string& part) {
  const std::string faults = faults_of(text);
  EXPECT_NE(faults.find(part), std::string::npos) << "got: " << faults << "wanted: " << part;
}

/// The only fault of a file.
inline void expect_only_fault(const std::string& text, const std::string& whole) {
  EXPECT_EQ(faults_of(text), whole + "\n") << text;
}

}  // namespace weighwright::record::testing
