#include "link/host_address.h"

#include <netdb.h>
#include <sys/socket.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <system_error>
#include <thread>

namespace weighwright::link {

namespace {

constexpr double kSlice_s = 0.02;

FoundAddresses look_up(const std::string& host, int port, int flags) {
  addrinfo hints{};
  hints.ai_socktype = SOCK_STREAM;
  hints.ai_flags = flags;
  addrinfo* list = nullptr;
  const int result = ::getaddrinfo(host.c_str(), std::to_string(port).c_str(), &hints, &list);
  if (result != 0) {
    return {{},
            "there is no host " + host + " that this machine knows (" + ::gai_strerror(result) +
                "); write its address in figures"};
  }
  FoundAddresses found;
  for (const addrinfo* one = list; one != nullptr; one = one->ai_next) {
    const auto* const begin = reinterpret_cast<const unsigned char*>(one->ai_addr);
    found.addresses.push_back({one->ai_family, {begin, begin + one->ai_addrlen}});
  }
  ::freeaddrinfo(list);
  return found;
}

}  // namespace

struct HostLookup::Search {
  FoundAddresses found;
  std::atomic<bool> done = false;
};

HostLookup::HostLookup() = default;
HostLookup::~HostLookup() = default;

FoundAddresses HostLookup::find(const std::string& host,
                                int port,
                                double seconds,
                                const Stop& stop) {
  FoundAddresses at_once = look_up(host, port, AI_NUMERICHOST | AI_NUMERICSERV);
  if (!at_once.addresses.empty()) return at_once;
  if (!search_) {
    search_ = std::make_shared<Search>();
    // the search can't be broken off: it keeps what it needs and nobody waits for its end
    try {
      std::thread([search = search_, host, port] {
        search->found = look_up(host, port, AI_NUMERICSERV);
        search->done = true;
      }).detach();
    } catch (const std::system_error& error) {
      search_.reset();
      return {{}, std::string("the host can't be looked up: ") + error.what()};
    }
  }
  for (double waited = 0.0; waited < seconds && !search_->done; waited += kSlice_s) {
    if (stop.wait(kSlice_s)) return {{}, "stopped"};
  }
  if (!search_->done) {
    return {{}, "no name server says where " + host + " is; write its address in figures"};
  }
  FoundAddresses found = std::move(search_->found);
  search_.reset();
  return found;
}

}  // namespace weighwright::link
