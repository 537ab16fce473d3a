#include "record/fault_list.h"

#include <utility>

namespace weighwright::record {

void FaultList::add(int line, int column, std::string what, std::string expected) {
  ++count_;
  if (faults_.size() == kMost) return;
  faults_.push_back({file_, line, column, std::move(what), std::move(expected)});
}

units::Diagnostics FaultList::list() const {
  units::Diagnostics all = faults_;
  if (count_ > kMost) {
    all.push_back({file_, 0, 0, "and " + std::to_string(count_ - kMost) + " more faults",
                   "mend the first ones and try again"});
  }
  return all;
}

}  // namespace weighwright::record
