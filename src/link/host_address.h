#pragma once
/// A host's name to addresses, without ever holding up the thread that asks: looking a name up may
/// take half a minute where no name server answers.

#include <memory>
#include <string>
#include <vector>

#include "link/stop.h"

namespace weighwright::link {

/// What connect(2) takes.
struct HostAddress {
  int family = 0;
  std::vector<unsigned char> bytes;  // of a sockaddr
};

struct FoundAddresses {
  std::vector<HostAddress> addresses;
  std::string says;  // none: why
};

class HostLookup {
 public:
  HostLookup();
  ~HostLookup();

  /// Figures ("192.0.2.7", "::1") at once; names within `seconds`, or not yet.
  [[nodiscard]] FoundAddresses find(const std::string& host,
                                    int port,
                                    double seconds,
                                    const Stop& stop);

 private:
  struct Search;
  std::shared_ptr<Search> search_;  // one at a time; outlives us where it is still waiting
};

}  // namespace weighwright::link
