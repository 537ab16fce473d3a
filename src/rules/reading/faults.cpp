#include "rules/reading/faults.h"

#include <algorithm>
#include <tuple>
#include <utility>

namespace weighwright::rules::reading {

void Faults::add(Origin origin, int line, int column, std::string what, std::string expected) {
  ++count_;
  if (faults_.size() == kMost) return;
  faults_.push_back({files_.at(static_cast<std::size_t>(origin)), line, column, std::move(what),
                     std::move(expected)});
}

void Faults::at_value(const Node& node, std::string what, std::string expected) {
  add(node.origin, node.line, node.column, std::move(what), std::move(expected));
}

void Faults::at_key(const Node& node, std::string what, std::string expected) {
  add(node.origin, node.key_line, node.key_column, std::move(what), std::move(expected));
}

units::Diagnostics Faults::all() const {
  units::Diagnostics all;
  // sorted by insertion, so that faults of one place keep their order
  for (const units::Diagnostic& fault : faults_) {
    const auto after = std::upper_bound(
        all.begin(), all.end(), fault, [](const units::Diagnostic& a, const units::Diagnostic& b) {
          return std::tie(a.line, a.column) < std::tie(b.line, b.column);
        });
    all.insert(after, fault);
  }
  if (count_ > kMost) {
    all.push_back({files_.back(), 0, 0, "and " + std::to_string(count_ - kMost) + " more faults",
                   "mend the first ones and try again"});
  }
  return all;
}

}  // namespace weighwright::rules::reading
