#pragma once
/// What this machine is called in its networks.

#include <span>
#include <string>
#include <vector>

namespace weighwright::web {

struct OwnNames {
  std::vector<std::string> addresses;  // in figures, IPv4 first; without loopback and link-local
  std::vector<std::string> hosts;      // "laptop", "laptop.local"
};
[[nodiscard]] OwnNames own_names();

/// 4 or 16 bytes of an address in figures: "192.0.2.7", "2001:db8::7". Empty for another length.
[[nodiscard]] std::string figures_of(std::span<const unsigned char> bytes);
/// The other way. Empty when the text is no address in figures.
[[nodiscard]] std::vector<unsigned char> bytes_of_address(const std::string& figures);

/// 127.0.0.0/8 or ::1 (RFC 1122, 3.2.1.3; RFC 4291, 2.5.3), in figures.
[[nodiscard]] bool is_loopback(const std::string& figures);

}  // namespace weighwright::web
