#pragma once
/// The other end of the wire: servers that answer as instruments do, for practice sites and tests.

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "deck/instrument.h"

namespace weighwright::link {

/// What an answering instrument shows now.
struct Shown {
  std::string place;   // "2L", "indication"
  double value = 0.0;  // in the unit of its register
  bool moving = false;
  bool over = false;  // beyond Max: the display shows no figure
};
/// Called from the servers' threads.
using ShowNow = std::function<std::vector<Shown>()>;

/// Answers the registers of one instrument over Modbus TCP on loopback. Writing is refused
/// (exception 1). Reads and exceptions as the protocol says.
class AnsweringModbus {
 public:
  /// @param instrument  its registers; @param port  0: any
  /// @throws std::system_error when the port can't be had
  AnsweringModbus(const deck::Instrument& instrument, int port, ShowNow show);
  ~AnsweringModbus();
  [[nodiscard]] int port() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

/// Answers the open serial protocol (level 1 of it, and H) over TCP on loopback and over a pty.
class AnsweringWeight {
 public:
  struct Where {
    bool tcp = true;
    int port = 0;      // 0: any
    bool pty = false;  // a pseudo-terminal
  };
  /// @param unit kg or lb; @param step of the display
  AnsweringWeight(const Where& where, deck::LiveUnit unit, double step, double most, ShowNow show);
  ~AnsweringWeight();
  [[nodiscard]] int port() const;            // 0: no TCP
  [[nodiscard]] std::string device() const;  // of the pty, "/dev/pts/3"; empty: none

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace weighwright::link
