#include "web/addresses.h"

#include <ifaddrs.h>
#include <netdb.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <climits>
#include <cstring>
#include <memory>

namespace weighwright::web {
namespace {

using Bytes = std::span<const unsigned char>;

/// The bytes inside; empty for other families.
Bytes bytes_in(const sockaddr* address) {
  if (address->sa_family == AF_INET) {
    const auto* const v4 = reinterpret_cast<const sockaddr_in*>(address);
    return {reinterpret_cast<const unsigned char*>(&v4->sin_addr), 4};
  }
  if (address->sa_family == AF_INET6) {
    const auto* const v6 = reinterpret_cast<const sockaddr_in6*>(address);
    return {reinterpret_cast<const unsigned char*>(&v6->sin6_addr), 16};
  }
  return {};
}

bool is_loopback_bytes(Bytes bytes) {
  if (bytes.size() == 4) return bytes[0] == 127;
  return bytes.size() == 16 && bytes[15] == 1 &&
         std::all_of(bytes.begin(), bytes.end() - 1, [](auto b) { return b == 0; });
}

/// RFC 4291, 2.5.3 and 2.5.6; RFC 1122, 3.2.1.3: loopback and link-local, which no phone could ask.
bool is_only_here(Bytes bytes) {
  const bool link_local = bytes.size() == 16 && bytes[0] == 0xfe && (bytes[1] & 0xc0U) == 0x80;
  return link_local || is_loopback_bytes(bytes);
}

}  // namespace

std::string figures_of(Bytes bytes) {
  sockaddr_storage name{};
  socklen_t length = 0;
  if (bytes.size() == 4) {
    auto* const v4 = reinterpret_cast<sockaddr_in*>(&name);
    v4->sin_family = AF_INET;
    std::memcpy(&v4->sin_addr, bytes.data(), 4);
    length = sizeof *v4;
  } else if (bytes.size() == 16) {
    auto* const v6 = reinterpret_cast<sockaddr_in6*>(&name);
    v6->sin6_family = AF_INET6;
    std::memcpy(&v6->sin6_addr, bytes.data(), 16);
    length = sizeof *v6;
  }
  std::array<char, NI_MAXHOST> text{};
  if (length == 0 || getnameinfo(reinterpret_cast<const sockaddr*>(&name), length, text.data(),
                                 text.size(), nullptr, 0, NI_NUMERICHOST) != 0) {
    return {};
  }
  return text.data();
}

std::vector<unsigned char> bytes_of_address(const std::string& figures) {
  addrinfo wanted{};
  wanted.ai_flags = AI_NUMERICHOST;
  wanted.ai_family = AF_UNSPEC;
  wanted.ai_socktype = SOCK_STREAM;
  addrinfo* found = nullptr;
  if (figures.empty() || getaddrinfo(figures.c_str(), nullptr, &wanted, &found) != 0) return {};
  const std::unique_ptr<addrinfo, decltype(&freeaddrinfo)> kept(found, freeaddrinfo);
  const Bytes bytes = bytes_in(found->ai_addr);
  return {bytes.begin(), bytes.end()};
}

bool is_loopback(const std::string& figures) {
  return is_loopback_bytes(bytes_of_address(figures));
}

OwnNames own_names() {
  OwnNames names;
  ifaddrs* all = nullptr;
  if (getifaddrs(&all) == 0) {
    for (const ifaddrs* one = all; one != nullptr; one = one->ifa_next) {
      if (one->ifa_addr == nullptr) continue;
      const Bytes bytes = bytes_in(one->ifa_addr);
      if (!bytes.empty() && !is_only_here(bytes)) names.addresses.push_back(figures_of(bytes));
    }
    freeifaddrs(all);
  }
  // Shorter to type first: IPv4.
  std::sort(names.addresses.begin(), names.addresses.end(),
            [](const std::string& a, const std::string& b) {
              return a.find(':') == std::string::npos && b.find(':') != std::string::npos;
            });
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
