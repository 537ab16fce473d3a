#include "deck/reading/fault_sink.h"

#include <algorithm>
#include <tuple>
#include <utility>

namespace weighwright::deck::reading {

void FaultSink::fault(Position at, std::string what, std::string expected) {
  ++count_;
  if (faults_.size() == kMost) return;
  faults_.push_back({file_, at.line, at.column, std::move(what), std::move(expected)});
}

void FaultSink::note(Position at, std::string what, std::string expected) {
  if (notes_.size() == kMost) return;
  notes_.push_back({file_, at.line, at.column, std::move(what), std::move(expected)});
}

units::Diagnostics FaultSink::faults() const {
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
    all.push_back({file_, 0, 0, "and " + std::to_string(count_ - kMost) + " more faults",
                   "mend the first ones and try again"});
  }
  return all;
}

}  // namespace weighwright::deck::reading
