#pragma once
/// An instant as entries write it: "2026-11-25T18:30:00.123Z" (RFC 3339, UTC, milliseconds always).

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace weighwright::record {

/// The first and the last instant that can be written: years 1970 to 9999.
inline constexpr std::int64_t kFirstInstant_ms = 0;
inline constexpr std::int64_t kLastInstant_ms = 253'402'300'799'999;

/// `time_ms` counts from 1970-01-01T00:00:00Z; outside the range the nearest end is written.
[[nodiscard]] std::string print_instant(std::int64_t time_ms);

/// Only what print_instant writes.
[[nodiscard]] std::optional<std::int64_t> parse_instant(std::string_view text);

}  // namespace weighwright::record
