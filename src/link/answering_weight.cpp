#include <fcntl.h>
#include <stdlib.h>
#include <termios.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cmath>
#include <system_error>
#include <unordered_map>

#include "link/answering.h"
#include "link/loopback.h"
#include "link/register_value.h"
#include "link/weight_line.h"

namespace weighwright::link {

namespace {

constexpr std::size_t kLongestCommand = 32;
constexpr double kCentreSteps =
    0.25;  // a zero mark within 0.25 d (OIML R 76-1:2006, 4.5.5; from memory)
constexpr double kAnswer_s = 0.2;

/// The end that a program opens, and ours.
struct Pty {
  Descriptor ours;
  Descriptor theirs;  // kept open: a port without a program at it is not gone
  std::string device;
};

[[noreturn]] void fail(const char* what) {
  throw std::system_error(errno, std::generic_category(), what);
}

Pty open_pty() {
  Pty pty;
  pty.ours = Descriptor(::posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC | O_NONBLOCK));
  if (!pty.ours || ::grantpt(pty.ours.value()) != 0 || ::unlockpt(pty.ours.value()) != 0) {
    fail("pseudo-terminal");
  }
  std::array<char, 128> name{};
  if (::ptsname_r(pty.ours.value(), name.data(), name.size()) != 0) fail("pseudo-terminal");
  pty.device = name.data();
  pty.theirs = Descriptor(::open(name.data(), O_RDWR | O_NOCTTY | O_CLOEXEC));
  termios line{};
  if (!pty.theirs || ::tcgetattr(pty.theirs.value(), &line) != 0) fail("pseudo-terminal");
  ::cfmakeraw(&line);
  if (::tcsetattr(pty.theirs.value(), TCSANOW, &line) != 0) fail("pseudo-terminal");
  return pty;
}

/// Commands to replies.
class WeightServer {
 public:
  WeightServer(deck::LiveUnit unit, double step, double most, ShowNow show)
      : unit_(unit == deck::LiveUnit::lb ? "lb" : "kg"),
        step_(step),
        most_(most),
        show_(std::move(show)) {}

  bool serve(int fd, std::string& pending) {
    std::size_t end = 0;
    while ((end = pending.find('\r')) != std::string::npos) {
      const std::string before = pending.substr(0, end);
      pending.erase(0, end + 1);
      // <ESC> breaks off what was begun; a command begins at the last <LF>
      const std::size_t begin = before.find_last_of("\n\x1B");
      if (begin == std::string::npos || before[begin] != '\n') continue;
      // who takes no answers gets none
      static_cast<void>(send_all(fd, reply(fd, before.substr(begin + 1)), kAnswer_s, stop_));
    }
    if (pending.size() > kLongestCommand) pending.erase(0, pending.size() - kLongestCommand);
    return true;
  }

 private:
  std::string reply(int fd, const std::string& command) {
    if (command != "B") about_.erase(fd);
    if (command == "W") return weight(WeightStatus::normal, false);
    if (command == "H") return weight(WeightStatus::normal, true);
    // it sets no zero by wire: the zero is the site's
    if (command == "Z") return weight(WeightStatus::zero_error, false);
    if (command == "D") return "\n    \r";
    if (command == "A") {
      about_[fd] = 0;
      return "\nSMA:1/1.0\r";
    }
    if (command == "B") return about(fd);
    return "\n?\r";
  }

  /// One line more each time, after A.
  std::string about(int fd) {
    static constexpr std::array<std::string_view, 4> kLines = {"MFG:practice site", "MOD:practice",
                                                               "REV:1", "END:"};
    const auto found = about_.find(fd);
    if (found == about_.end() || found->second >= kLines.size()) return "\n?\r";
    return "\n" + std::string(kLines[found->second++]) + "\r";
  }

  std::string weight(WeightStatus status, bool high_resolution) const {
    WeightReply out;
    out.status = status;
    out.unit = unit_;
    out.high_resolution = high_resolution;
    const double step = high_resolution ? step_ / 10.0 : step_;
    for (const Shown& now : show_()) {
      if (now.place != "indication" || status != WeightStatus::normal) continue;
      out.moving = now.moving;
      if (now.over || now.value > most_) {
        out.status = WeightStatus::over;
      } else if (now.value < -most_) {
        out.status = WeightStatus::under;
      } else {
        out.value = std::round(now.value / step) * step;
        out.typed = print_typed(*out.value, step);
        if (std::abs(now.value) <= kCentreSteps * step_) out.status = WeightStatus::centre_of_zero;
      }
    }
    if (const auto line = print_line(out)) return *line;
    out.status = WeightStatus::over;  // more digits than the protocol has
    out.value.reset();
    return print_line(out).value_or("\n!\r");
  }

  Stop stop_;
  std::string unit_;
  double step_;
  double most_;
  ShowNow show_;
  std::unordered_map<int, std::size_t> about_;
};

}  // namespace

struct AnsweringWeight::State {
  State(const Where& where, deck::LiveUnit unit, double step, double most, ShowNow show)
      : server(unit, step, most, std::move(show)),
        pty(where.pty ? open_pty() : Pty{}),
        loopback(where.tcp ? where.port : -1,
                 std::move(pty.ours),
                 [this](int fd, std::string& pending) { return server.serve(fd, pending); }) {}

  WeightServer server;
  Pty pty;
  Loopback loopback;
};

AnsweringWeight::AnsweringWeight(
    const Where& where, deck::LiveUnit unit, double step, double most, ShowNow show)
    : state_(std::make_unique<State>(where, unit, step, most, std::move(show))) {}

AnsweringWeight::~AnsweringWeight() = default;

int AnsweringWeight::port() const {
  return state_->loopback.port();
}

std::string AnsweringWeight::device() const {
  return state_->pty.device;
}

}  // namespace weighwright::link
