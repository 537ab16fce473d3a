#pragma once
/// What this machine is called in its networks.

#include <string>
#include <vector>

namespace weighwright::web {

struct OwnNames {
  std::vector<std::string> addresses;  // in figures, IPv4 first; without loopback and link-local
  std::vector<std::string> hosts;      // "laptop", "laptop.local"
};
[[nodiscard]] OwnNames own_names();

}  // namespace weighwright::web
