#pragma once
/// A server on 127.0.0.1 with several clients and one thread. What a client sends is kept until the
/// owner has made something of it, up to a bound; a client that sends more is let go.

#include <cstddef>
#include <functional>
#include <string>
#include <thread>
#include <vector>

#include "link/channel.h"
#include "link/stop.h"

namespace weighwright::link {

class Loopback {
 public:
  static constexpr std::size_t kMostClients = 32;
  static constexpr std::size_t kMostPending = 1024;  // bytes of one client

  /// Answers what has come from a client and takes it out of `pending`; false lets the client go.
  using Serve = std::function<bool(int fd, std::string& pending)>;

  /// @param port  below 0: none, 0: any
  /// @param other  a descriptor that is served like a client and never let go; may be empty
  /// @throws std::system_error  the port can't be had
  Loopback(int port, Descriptor other, Serve serve);
  ~Loopback();
  Loopback(const Loopback&) = delete;
  Loopback& operator=(const Loopback&) = delete;

  [[nodiscard]] int port() const { return port_; }  // 0: none

 private:
  struct Client {
    Descriptor fd;
    std::string pending;
    bool lasting = false;
  };

  void listen_on(int port);
  void run();
  void let_in();
  [[nodiscard]] bool serve_one(Client& client);

  Stop stop_;
  Descriptor listener_;
  int port_ = 0;
  std::vector<Client> clients_;
  Serve serve_;
  std::thread thread_;
};

}  // namespace weighwright::link
