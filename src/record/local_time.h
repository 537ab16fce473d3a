#pragma once
/// Dates and times as people type them; no zone, no clock.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace weighwright::record {

/// "2026-11-25T18:30" or "2026-11-25 18:30:05": seconds since 1970-01-01T00:00 of the same clock.
/// Empty: it is none, or no such day is in the calendar.
[[nodiscard]] std::optional<std::int64_t> read_local_time(std::string_view text);

/// "2026-11-25": days since 1970-01-01.
[[nodiscard]] std::optional<std::int64_t> read_date(std::string_view text);

/// "2026-11-25" of a number of days.
[[nodiscard]] std::string print_date(std::int64_t day);

}  // namespace weighwright::record
