#include "web/addresses.h"

#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <netinet/in.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <climits>

namespace weighwright::web {
namespace {

/// Empty for what nobody else could type.
std::string figures(const sockaddr* address) {
  std::array<char, INET6_ADDRSTRLEN> text{};
  if (address->sa_family == AF_INET) {
    const auto* const v4 = reinterpret_cast<const sockaddr_in*>(address);
    inet_ntop(AF_INET, &v4->sin_addr, text.data(), text.size());
  } else if (address->sa_family == AF_INET6) {
    const auto* const v6 = reinterpret_cast<const sockaddr_in6*>(address);
    if (IN6_IS_ADDR_LINKLOCAL(&v6->sin6_addr)) return {};
    inet_ntop(AF_INET6, &v6->sin6_addr, text.data(), text.size());
  }
  return text.data();
}

}  // namespace

OwnNames own_names() {
  OwnNames names;
  ifaddrs* all = nullptr;
  if (getifaddrs(&all) == 0) {
    for (const ifaddrs* one = all; one != nullptr; one = one->ifa_next) {
      if (one->ifa_addr == nullptr || (one->ifa_flags & IFF_LOOPBACK) != 0) continue;
      if ((one->ifa_flags & IFF_UP) == 0) continue;
      std::string address = figures(one->ifa_addr);
      if (!address.empty()) names.addresses.push_back(std::move(address));
    }
    freeifaddrs(all);
  }
  std::stable_partition(names.addresses.begin(), names.addresses.end(),
                        [](const std::string& one) { return one.find(':') == std::string::npos; });
  std::array<char, HOST_NAME_MAX + 1> host{};
  if (gethostname(host.data(), host.size() - 1) == 0 && host[0] != '\0') {
    std::string name = host.data();
    std::transform(name.begin(), name.end(), name.begin(), [](char c) {
      return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    });
    names.hosts.push_back(name);
    // As phones look for it without a name server (RFC 6762).
    if (name.find('.') == std::string::npos) names.hosts.push_back(name + ".local");
  }
  return names;
}

}  // namespace weighwright::web
