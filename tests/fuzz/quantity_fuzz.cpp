#include <cmath>

#include "fuzz/entry.h"
#include "units/diagnostic.h"
#include "units/quantity.h"

namespace weighwright::fuzz {

void read_quantity(std::string_view bytes) {
  for (int i = 0; i <= static_cast<int>(units::Kind::pressure); ++i) {
    const auto kind = static_cast<units::Kind>(i);
    const units::Parsed parsed = units::parse(bytes, kind);
    if (parsed.ok()) {
      hold(std::isfinite(parsed.value));
      hold(units::parse(units::print_exact(parsed.value, kind), kind).value == parsed.value);
    } else {
      hold(units::is_utf8(parsed.what) && units::is_utf8(parsed.expected));
    }
  }
}

}  // namespace weighwright::fuzz

WEIGHWRIGHT_FUZZ_TARGET(weighwright::fuzz::read_quantity)
