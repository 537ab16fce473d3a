#pragma once
/// Entries whose numbers can not come from counting: one of them, merged in, would leave no number
/// for the next entry, or send every later one to the end of the order. Values only.
///
/// Rule  A place in a chain above kMostCounted is impossible. An order number (lamport) above it
///       is, unless the entry names one that is there and possible, with a number at most one less:
///       so what honest writers add after a large number stays possible. A time after
///       kLastPlausible_ms is no clock's.

#include <cstdint>
#include <string>
#include <unordered_map>
#include <vector>

#include "journal/journal.h"

namespace weighwright::journal {

/// An entry a second, day and night, for thirty years.
inline constexpr std::int64_t kMostCounted = 1'000'000'000;

/// 2200-01-01T00:00:00Z. A clock without a battery says 1970, which is kept; none says this.
inline constexpr std::int64_t kLastPlausible_ms = 7'258'118'400'000;

struct Impossible {
  std::string why;      // a sentence
  bool blocks = false;  // its numbers leave none after it; else only its time can not be
};

/// By hash; of the intact entries.
/// @param entries  in total order
[[nodiscard]] std::unordered_map<std::string, Impossible> impossible_of(
    const std::vector<LoadedEntry>& entries);

}  // namespace weighwright::journal
