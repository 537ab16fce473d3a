#pragma once
/// Ways to an instrument: a connection over TCP, or a serial port. Bytes only.
///
/// Every wait ends when `stop` is raised; nothing throws.

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>

#include "deck/instrument.h"
#include "link/host_address.h"
#include "link/stop.h"

namespace weighwright::link {

/// Owns a file descriptor.
class Descriptor {
 public:
  Descriptor() = default;
  explicit Descriptor(int fd) : fd_(fd) {}
  Descriptor(Descriptor&& other) noexcept : fd_(std::exchange(other.fd_, -1)) {}
  Descriptor& operator=(Descriptor&& other) noexcept {
    std::swap(fd_, other.fd_);
    return *this;
  }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor();

  [[nodiscard]] int value() const { return fd_; }
  [[nodiscard]] explicit operator bool() const { return fd_ >= 0; }
  /// Gives the descriptor away.
  [[nodiscard]] int release() { return std::exchange(fd_, -1); }

 private:
  int fd_ = -1;
};

struct Opened {
  Descriptor descriptor;  // does not block
  bool refused = false;   // somebody is there and says no
  std::string says;       // not open: why
};

[[nodiscard]] Opened open_tcp(
    HostLookup& lookup, const std::string& host, int port, double seconds, const Stop& stop);

/// Sets the line as the instrument describes it, for this program alone.
[[nodiscard]] Opened open_serial(const deck::Instrument& instrument);

/// "no permission to use /dev/ttyUSB0 ...", by errno.
[[nodiscard]] std::string serial_words(const std::string& device, int error);

struct Received {
  std::size_t count = 0;  // bytes; 0: nothing is there now
  bool ended = false;     // the other end closed, or the port is gone
};

/// What is there now, without waiting.
[[nodiscard]] Received receive_now(int fd, char* into, std::size_t size);
/// All of it, or false: the other end is gone or takes nothing.
[[nodiscard]] bool send_all(int fd, std::string_view bytes, double seconds, const Stop& stop);

}  // namespace weighwright::link
