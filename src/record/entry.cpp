#include "record/entry.h"

#include <tuple>

namespace weighwright::record {

std::string_view field(const Fields& fields, std::string_view name) {
  for (const auto& [key, value] : fields) {
    if (key == name) return value;
  }
  return {};
}

bool before(const Entry& a, const Entry& b) {
  return std::tie(a.stamp.lamport, a.stamp.device, a.stamp.sequence, a.hash) <
         std::tie(b.stamp.lamport, b.stamp.device, b.stamp.sequence, b.hash);
}

std::string print_name(const Stamp& stamp) {
  return stamp.device.substr(0, 8) + "-" + std::to_string(stamp.sequence);
}

}  // namespace weighwright::record
