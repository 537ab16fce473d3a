#pragma once
/// Dates and times as people type them; no zone, no clock.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace weighwright::record {

/// "2026-11-25T18:30" or "2026-11-25 18:30:05": seconds since 1970-01-01T00:00 of the same clock.
/// Empty: it is none, no such day is in the calendar, or its year begins with 0, which is a slip of
/// the pen.
[[nodiscard]] std::optional<std::int64_t> read_local_time(std::string_view text);

struct LocalStamp {
  std::int64_t time_s = 0;        // as above
  std::optional<int> offset_min;  // of the clock from UTC; empty: not stated
};
/// The same, and behind it the offset of that clock from UTC where it is stated: "Z", "+01:00",
/// "-0530" (at most 14 h; RFC 3339, 5.6). Empty too: before the year 1900, when no display showed
/// anything.
[[nodiscard]] std::optional<LocalStamp> read_stamp(std::string_view text);

/// "2026-11-25": days since 1970-01-01.
[[nodiscard]] std::optional<std::int64_t> read_date(std::string_view text);

/// "2026-11-25" of a number of days.
[[nodiscard]] std::string print_date(std::int64_t day);

}  // namespace weighwright::record
