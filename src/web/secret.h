#pragma once
/// Random secrets and what is kept of them. Random bytes and BLAKE2b (RFC 7693) are libsodium's.

#include <cstddef>
#include <string>
#include <string_view>

namespace weighwright::web {

/// @throws std::runtime_error when the library can not begin
void begin_secrets();

/// 64 hex digits: 256 bits.
[[nodiscard]] std::string random_secret();

/// `count` characters, each equally likely. @param alphabet  at most 256 characters
[[nodiscard]] std::string random_text(std::string_view alphabet, std::size_t count);

/// What is kept of a secret: BLAKE2b-256 in 64 hex digits. @param key  may be empty
[[nodiscard]] std::string hash_of(std::string_view secret, std::string_view key);

/// In a time that does not depend on where they differ.
[[nodiscard]] bool same_secret(std::string_view a, std::string_view b);

}  // namespace weighwright::web
