#pragma once
/// Collects the faults of one rulebook: the first hundred, then only their number.

#include <array>
#include <cstddef>
#include <string>

#include "rules/reading/tree.h"
#include "units/diagnostic.h"

namespace weighwright::rules::reading {

class Faults {
 public:
  static constexpr std::size_t kMost = 100;

  /// @param base_file  its name; empty: no base
  Faults(std::string base_file, std::string file) : files_{std::move(base_file), std::move(file)} {}

  void at_value(const Node& node, std::string what, std::string expected);
  void at_key(const Node& node, std::string what, std::string expected);

  [[nodiscard]] std::size_t count() const { return count_; }
  /// In the order of the file, with a last line that counts those beyond the hundredth.
  [[nodiscard]] units::Diagnostics all() const;

 private:
  void add(Origin origin, int line, int column, std::string what, std::string expected);

  std::array<std::string, 2> files_;
  units::Diagnostics faults_;
  std::size_t count_ = 0;
};

}  // namespace weighwright::rules::reading
