#include "record/result_days.h"

#include <algorithm>

namespace weighwright::record {

namespace {

std::int64_t day_of_time(std::int64_t time_s) {
  constexpr std::int64_t kDay_s = 86'400;
  return (time_s - (time_s < 0 ? kDay_s - 1 : 0)) / kDay_s;
}

}  // namespace

std::int64_t day_of(const ProofReading& reading, std::int64_t otherwise) {
  if (reading.day) return *reading.day;
  return reading.time_s ? day_of_time(*reading.time_s) : otherwise;
}

void give_days(ProofSet& set, std::int64_t otherwise) {
  const auto first =
      std::find_if(set.readings.begin(), set.readings.end(),
                   [](const ProofReading& reading) { return reading.time_s.has_value(); });
  std::int64_t day = first == set.readings.end() ? otherwise : day_of_time(*first->time_s);
  for (ProofReading& reading : set.readings) {
    if (reading.time_s) day = day_of_time(*reading.time_s);
    reading.day = day;
  }
}

}  // namespace weighwright::record
