#pragma once
/// Who wrote an entry: every device signs what it writes with a key of its own, Ed25519 (RFC 8032),
/// over the constant "weighwright entry signature 1", a zero byte and the 32 bytes of the entry's
/// hash. The public key is part of the content, so that the hash holds it.
///
/// No I/O: keys come and go by value. The secret one is kept outside every journal.

#include <array>
#include <string>
#include <string_view>

#include "journal/entry_hash.h"
#include "journal/journal.h"

namespace weighwright::journal {

inline constexpr std::size_t kSignature_bytes = 64;

/// 64 lower-case hex digits.
[[nodiscard]] std::string public_key_of(const KeySeed& seed);

/// kSignature_bytes bytes.
[[nodiscard]] std::string sign(const KeySeed& seed, const HashBytes& entry_hash);

/// @param public_key  64 hex digits
[[nodiscard]] bool is_signed(std::string_view public_key,
                             const HashBytes& entry_hash,
                             std::string_view signature);

/// The number under which a device goes on where its own chain in a journal is closed: the first 16
/// hex digits of a hash of the number and the public key. The same device finds it again.
[[nodiscard]] std::string next_number(std::string_view device, std::string_view public_key);

/// "3f9a-04c1-5e6b-7788": the first 16 digits of a public key, for people to compare.
[[nodiscard]] std::string fingerprint(std::string_view public_key);

}  // namespace weighwright::journal
