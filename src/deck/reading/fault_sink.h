#pragma once
/// Collects faults and notes of one deck file: the first hundred of each, then only their number.

#include <cstddef>
#include <string>

#include "deck/reading/document.h"
#include "units/diagnostic.h"

namespace weighwright::deck::reading {

/// Where something stands in the file; zeros: nowhere.
struct Position {
  int line = 0;
  int column = 0;
};

[[nodiscard]] inline Position of_value(const Node& node) {
  return {node.line, node.column};
}
[[nodiscard]] inline Position of_key(const Node& node) {
  return {node.key_line, node.key_column};
}

class FaultSink {
 public:
  static constexpr std::size_t kMost = 100;

  explicit FaultSink(std::string file) : file_(std::move(file)) {}

  void fault(Position at, std::string what, std::string expected);
  void note(Position at, std::string what, std::string expected);

  [[nodiscard]] std::size_t fault_count() const { return count_; }
  /// In the order of the file, with a last line that counts those beyond the hundredth.
  [[nodiscard]] units::Diagnostics faults() const;
  [[nodiscard]] const units::Diagnostics& notes() const { return notes_; }

 private:
  std::string file_;
  units::Diagnostics faults_;
  units::Diagnostics notes_;
  std::size_t count_ = 0;
};

}  // namespace weighwright::deck::reading
