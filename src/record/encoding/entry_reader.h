#pragma once
/// The two ways in which the content of an entry is read; entry_text.cpp chooses.

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "record/encoding/entry_text.h"

namespace weighwright::record {

/// Whole numbers that every JSON reader keeps exactly (RFC 8259, section 6).
inline constexpr std::int64_t kLargestWhole = 9'007'199'254'740'991;
inline constexpr int kLargestOffset_min = 18 * 60;
inline constexpr std::size_t kMostFields = 1'000;

[[nodiscard]] bool is_device(std::string_view text);  // 16 lower-case hex digits
[[nodiscard]] bool is_hash(std::string_view text);    // 64 lower-case hex digits

/// What is wrong with an entry that was read; empty: nothing.
[[nodiscard]] std::string fault_of(const Entry& entry);

/// The layout that print_content writes, byte for byte, and nothing else: several times faster than
/// a general reader, and most of the time that it takes to open a journal. Nothing: read it the
/// general way.
[[nodiscard]] std::optional<Entry> read_canonical(std::string_view content);

/// Any JSON (RFC 8259): keys in any order, unknown keys passed over.
[[nodiscard]] ParsedContent read_general(std::string_view content);

}  // namespace weighwright::record
