#pragma once
/// The hash that chains entries, and the one that names attachments: BLAKE2b with 32 bytes of
/// digest and no key (RFC 7693).
///
/// Entry       over "weighwright journal entry 1" and a zero byte, the length of the content as
///             8 bytes little endian, the content, and the 32 bytes of the hash before it in its
///             chain. Constant and length make sure that zero bytes are never a valid entry.
/// Attachment  over its bytes alone, so that any BLAKE2b program can check it.

#include <array>
#include <optional>
#include <string>
#include <string_view>

namespace weighwright::journal {

using HashBytes = std::array<unsigned char, 32>;

[[nodiscard]] HashBytes entry_hash(std::string_view content, const HashBytes& previous);
[[nodiscard]] HashBytes attachment_hash(std::string_view bytes);

/// 64 lower-case hex digits.
[[nodiscard]] std::string print_hex(const HashBytes& hash);
/// Nothing when it is not 64 lower-case hex digits.
[[nodiscard]] std::optional<HashBytes> parse_hex(std::string_view text);

/// Bytes of any length, two lower-case hex digits each.
[[nodiscard]] std::string print_hex(std::string_view bytes);
[[nodiscard]] std::optional<std::string> parse_hex_bytes(std::string_view text);

}  // namespace weighwright::journal
