#pragma once
/// The key and the certificate of this machine: made at first use, kept, signed by itself.
///
/// EC P-256, SHA-256, 396 days, for the addresses and names that the machine had so far. When it
/// has a new one, or a month before the end, a new certificate is made for the same key. Nobody has
/// signed it but itself: a phone's browser asks once, and the person compares the fingerprint of
/// the key, which stays.

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

struct ssl_ctx_st;

namespace weighwright::web {

struct Identity {
  std::string key_pem;
  std::string certificate_pem;
  std::string fingerprint;  // SHA-256 of the public key, "3A:9F:..."
};

/// @param folder     files `page-key.pem` and `page-certificate.pem` in it, readable by the owner
///                   only
/// @param addresses  in figures; @param hosts  names
/// @throws std::runtime_error with a sentence: the folder can't be written, a file in it is no key
[[nodiscard]] Identity own_identity(const std::filesystem::path& folder,
                                    const std::vector<std::string>& addresses,
                                    const std::vector<std::string>& hosts);

/// TLS 1.2 and later, as the server speaks it. @throws std::runtime_error
[[nodiscard]] std::shared_ptr<ssl_ctx_st> tls_of(const Identity& identity);

}  // namespace weighwright::web
