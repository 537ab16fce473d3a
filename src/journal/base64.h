#pragma once
/// Base64 (RFC 4648, section 4: with padding, no line breaks).

#include <optional>
#include <string>
#include <string_view>

namespace weighwright::journal {

[[nodiscard]] std::string print_base64(std::string_view bytes);

/// Nothing when it is not exactly what print_base64 writes.
[[nodiscard]] std::optional<std::string> parse_base64(std::string_view text);

}  // namespace weighwright::journal
