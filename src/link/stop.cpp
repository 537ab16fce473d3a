#include "link/stop.h"

#include <poll.h>
#include <sys/eventfd.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <system_error>

namespace weighwright::link {

namespace {

using Clock = std::chrono::steady_clock;

int milliseconds_until(Clock::time_point end) {
  const double left = std::chrono::duration<double, std::milli>(end - Clock::now()).count();
  return static_cast<int>(std::clamp(std::ceil(left), 0.0, 3.6e6));
}

}  // namespace

Stop::Stop() : fd_(::eventfd(0, EFD_CLOEXEC | EFD_NONBLOCK)) {
  if (fd_ < 0) throw std::system_error(errno, std::generic_category(), "eventfd");
}

Stop::~Stop() {
  ::close(fd_);
}

void Stop::raise() noexcept {
  const std::uint64_t one = 1;
  // it can only be full, and then it is raised already
  [[maybe_unused]] const auto written = ::write(fd_, &one, sizeof one);
}

bool Stop::raised() const noexcept {
  return wait_for(-1, 0, 0.0) == Ready::stopped;
}

bool Stop::wait(double seconds) const noexcept {
  return wait_for(-1, 0, seconds) == Ready::stopped;
}

Stop::Ready Stop::readable(int fd, double seconds) const noexcept {
  return wait_for(fd, POLLIN, seconds);
}

Stop::Ready Stop::writable(int fd, double seconds) const noexcept {
  return wait_for(fd, POLLOUT, seconds);
}

Stop::Ready Stop::wait_for(int fd, short events, double seconds) const noexcept {
  const Clock::time_point end =
      Clock::now() + std::chrono::duration_cast<Clock::duration>(
                         std::chrono::duration<double>(std::clamp(seconds, 0.0, 3600.0)));
  while (true) {
    pollfd both[2] = {{fd_, POLLIN, 0}, {fd, events, 0}};
    const int count = ::poll(both, 2, milliseconds_until(end));
    if (both[0].revents != 0 && count > 0) return Ready::stopped;
    if (count > 0) return Ready::yes;
    if (count == 0) return Ready::time_is_up;
    if (errno != EINTR) return Ready::time_is_up;
  }
}

}  // namespace weighwright::link
