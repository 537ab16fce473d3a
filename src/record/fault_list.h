#pragma once
/// Collects the faults of one file: the first hundred, then only their number.

#include <cstddef>
#include <string>

#include "units/diagnostic.h"

namespace weighwright::record {

class FaultList {
 public:
  static constexpr std::size_t kMost = 100;

  explicit FaultList(std::string file) : file_(std::move(file)) {}

  void add(int line, int column, std::string what, std::string expected);
  [[nodiscard]] bool empty() const { return count_ == 0; }
  /// The faults found, with a last line that counts those beyond the hundredth.
  [[nodiscard]] units::Diagnostics list() const;

 private:
  std::string file_;
  units::Diagnostics faults_;
  std::size_t count_ = 0;
};

}  // namespace weighwright::record
