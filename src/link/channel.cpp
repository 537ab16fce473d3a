#include "link/channel.h"

#include <fcntl.h>
#include <sys/ioctl.h>
#include <sys/socket.h>
#include <termios.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <system_error>

namespace weighwright::link {

namespace {

std::string reason(int error) {
  return std::generic_category().message(error);
}

std::string connect_words(const std::string& host, int port, int error) {
  const std::string where = host + " port " + std::to_string(port);
  switch (error) {
    case ECONNREFUSED:
      return where + " refuses the connection: is the port right, and its network service on?";
    case EHOSTUNREACH:
    case ENETUNREACH:
      return "there is no way to " + host + ": is this machine in the same network?";
    case ETIMEDOUT:
      return "nobody answers at " + where + ": is it on, and the address right?";
    default:
      break;
  }
  return where + " can't be reached: " + reason(error);
}

/// 0, or errno.
int finish_connect(int fd, double seconds, const Stop& stop) {
  switch (stop.writable(fd, seconds)) {
    case Stop::Ready::stopped:
      return ECANCELED;
    case Stop::Ready::time_is_up:
      return ETIMEDOUT;
    case Stop::Ready::yes:
      break;
  }
  int error = 0;
  socklen_t size = sizeof error;
  if (::getsockopt(fd, SOL_SOCKET, SO_ERROR, &error, &size) != 0) return errno;
  return error;
}

speed_t speed_of(int baud) {
  struct Speed {
    int baud;
    speed_t speed;
  };
  static constexpr std::array kSpeeds = {
      Speed{1200, B1200},   Speed{2400, B2400},     Speed{4800, B4800},
      Speed{9600, B9600},   Speed{19200, B19200},   Speed{38400, B38400},
      Speed{57600, B57600}, Speed{115200, B115200}, Speed{230400, B230400}};
  for (const Speed& one : kSpeeds) {
    if (one.baud == baud) return one.speed;
  }
  return B0;
}

/// False: the port does not take these settings.
bool set_line(int fd, const deck::Instrument& instrument) {
  termios line{};
  const speed_t speed = speed_of(instrument.baud);
  if (speed == B0 || ::tcgetattr(fd, &line) != 0) return false;
  ::cfmakeraw(&line);
  line.c_cflag &= ~static_cast<tcflag_t>(CSIZE | PARENB | PARODD | CSTOPB | CRTSCTS);
  line.c_cflag |= CLOCAL | CREAD;
  line.c_cflag |= instrument.data_bits == 7 ? CS7 : CS8;
  if (instrument.stop_bits == 2) line.c_cflag |= CSTOPB;
  if (instrument.parity != deck::Parity::none) {
    line.c_cflag |= PARENB;
    line.c_iflag |= INPCK | IGNPAR;  // a damaged byte is dropped, and the reply is too short
  }
  if (instrument.parity == deck::Parity::odd) line.c_cflag |= PARODD;
  line.c_cc[VMIN] = 1;  // with 0 an empty port would read like one that is gone
  line.c_cc[VTIME] = 0;
  return ::cfsetispeed(&line, speed) == 0 && ::cfsetospeed(&line, speed) == 0 &&
         ::tcsetattr(fd, TCSANOW, &line) == 0;
}

}  // namespace

Descriptor::~Descriptor() {
  if (fd_ >= 0) ::close(fd_);
}

Opened open_tcp(
    HostLookup& lookup, const std::string& host, int port, double seconds, const Stop& stop) {
  const FoundAddresses found = lookup.find(host, port, seconds, stop);
  if (found.addresses.empty()) return {Descriptor(), false, found.says};
  int error = 0;
  for (const HostAddress& address : found.addresses) {
    Descriptor fd(::socket(address.family, SOCK_STREAM | SOCK_NONBLOCK | SOCK_CLOEXEC, 0));
    if (!fd) {
      error = errno;
      continue;
    }
    const auto* const where = reinterpret_cast<const sockaddr*>(address.bytes.data());
    const int result = ::connect(fd.value(), where, static_cast<socklen_t>(address.bytes.size()));
    error = result == 0 ? 0 : errno;
    if (error == EINPROGRESS) error = finish_connect(fd.value(), seconds, stop);
    if (error == 0) return {std::move(fd), false, {}};
    if (error == ECANCELED) break;
  }
  return {Descriptor(), error == ECONNREFUSED, connect_words(host, port, error)};
}

std::string serial_words(const std::string& device, int error) {
  switch (error) {
    case ENOENT:
    case ENODEV:
    case ENXIO:
      return "there is no " + device + ": is the adapter plugged in?";
    case EACCES:
    case EPERM:
      return "no permission to use " + device + ": the user must be in the group dialout";
    case EBUSY:
      return device + " is in use by another program";
    case ENOTTY:
    case EINVAL:
    case EISDIR:
      return device + " is no serial port, or does not take these settings";
    default:
      break;
  }
  return device + " can't be used: " + reason(error);
}

Opened open_serial(const deck::Instrument& instrument) {
  const std::string& device = instrument.device;
  Descriptor fd(::open(device.c_str(), O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC));
  if (!fd) {
    const int error = errno;
    return {Descriptor(), error == EACCES || error == EBUSY, serial_words(device, error)};
  }
  if (!set_line(fd.value(), instrument)) {
    return {Descriptor(), true, serial_words(device, ENOTTY)};
  }
  if (::ioctl(fd.value(), TIOCEXCL) != 0) {
    return {Descriptor(), true, serial_words(device, EBUSY)};
  }
  return {std::move(fd), false, {}};
}

Received receive_now(int fd, char* into, std::size_t size) {
  while (true) {
    const ssize_t count = ::read(fd, into, size);
    if (count > 0) return {static_cast<std::size_t>(count), false};
    if (count == 0) return {0, true};
    if (errno == EINTR) continue;
    return {0, errno != EAGAIN};
  }
}

bool send_all(int fd, std::string_view bytes, double seconds, const Stop& stop) {
  while (!bytes.empty()) {
    // a socket whose other end is gone must not end the program; a port is no socket
    ssize_t count = ::send(fd, bytes.data(), bytes.size(), MSG_NOSIGNAL);
    if (count < 0 && errno == ENOTSOCK) count = ::write(fd, bytes.data(), bytes.size());
    if (count > 0) {
      bytes.remove_prefix(static_cast<std::size_t>(count));
      continue;
    }
    if (count < 0 && errno == EINTR) continue;
    if (count < 0 && errno != EAGAIN) return false;
    if (stop.writable(fd, seconds) != Stop::Ready::yes) return false;
  }
  return true;
}

}  // namespace weighwright::link
