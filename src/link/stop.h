#pragma once
/// A sign that ends every wait of a thread at once.

namespace weighwright::link {

class Stop {
 public:
  /// @throws std::system_error  no descriptor left
  Stop();
  ~Stop();
  Stop(const Stop&) = delete;
  Stop& operator=(const Stop&) = delete;

  void raise() noexcept;
  [[nodiscard]] bool raised() const noexcept;
  /// Waits; true: it was raised.
  [[nodiscard]] bool wait(double seconds) const noexcept;

  enum class Ready { yes, time_is_up, stopped };
  /// Waits until a descriptor can be read (or written).
  [[nodiscard]] Ready readable(int fd, double seconds) const noexcept;
  [[nodiscard]] Ready writable(int fd, double seconds) const noexcept;

  /// For a poll of one's own: readable once it is raised.
  [[nodiscard]] int descriptor() const noexcept { return fd_; }

 private:
  [[nodiscard]] Ready wait_for(int fd, short events, double seconds) const noexcept;

  int fd_ = -1;
};

}  // namespace weighwright::link
