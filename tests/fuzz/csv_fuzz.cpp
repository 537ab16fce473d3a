#include <cmath>
#include <cstddef>
#include <variant>

#include "fuzz/entry.h"
#include "record/csv.h"
#include "units/diagnostic.h"

namespace weighwright::fuzz {

void read_csv(std::string_view bytes) {
  constexpr int kSections = 3;
  constexpr int kJoints = 2;
  const record::ParsedMeasurement parsed =
      record::parse_measurement(bytes, "file.csv", kSections, kJoints);
  hold(parsed.value.has_value() == parsed.faults.empty());
  for (const units::Diagnostic& fault : parsed.faults) hold(units::is_utf8(units::print(fault)));
  if (!parsed.value) return;
  if (const auto* const readings = std::get_if<record::ReadingSet>(&*parsed.value)) {
    hold(readings->stands.size() == std::size_t{2} * kSections);
    for (const record::StandReading& reading : readings->stands) {
      hold(std::isfinite(reading.value) && reading.resolution > 0.0);
    }
  }
}

}  // namespace weighwright::fuzz

WEIGHWRIGHT_FUZZ_TARGET(weighwright::fuzz::read_csv)
