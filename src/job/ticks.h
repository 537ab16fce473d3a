#pragma once
/// What a technician ticks: steps done and conditions that hold. Order of the job: steps.h.

#include <string_view>
#include <vector>

namespace weighwright::job {

struct TickRule {
  std::string_view name;
  std::string_view says;  // what is true when it is ticked
  std::string_view todo;  // what to do about it, as a headline
  bool condition =
      false;  // of a reading (a missing one widens, holds nothing back) rather than a step
};

[[nodiscard]] const std::vector<TickRule>& ticks();
[[nodiscard]] const TickRule* find_tick(std::string_view name);

}  // namespace weighwright::job
