#pragma once
/// One instrument, asked again and again. Readers wait, but never longer than the instrument's
/// timeout and not after `stop` was raised; they never throw.

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "deck/instrument.h"
#include "link/stop.h"

namespace weighwright::link {

struct Reading {
  std::size_t place = 0;        // position in the instrument's list of places
  std::optional<double> value;  // empty: what came is no value, `says` tells why
  std::string typed;
  deck::LiveUnit unit = deck::LiveUnit::kg;
  double resolution = 0.0;  // 0: unknown
  bool moving = false;      // the instrument says so
  /// The same registers with their two words exchanged: tells a wrong word order.
  std::optional<double> exchanged = {};
  std::string says;  // beside a value: a remark
};

struct Tried {
  bool open = false;
  bool refused = false;  // somebody is there and says no
  std::string says;
};

struct Asked {
  enum class Result {
    answered,    // it is there; single readings may still be no values
    unanswered,  // nothing came in time; the way to it may be good
    broken       // the way is gone or out of step: to be opened anew
  };
  Result result = Result::unanswered;
  bool refused = false;  // every question was refused
  std::vector<Reading> readings;
  std::string says;
};

class Reader {
 public:
  Reader() = default;
  virtual ~Reader() = default;
  Reader(const Reader&) = delete;
  Reader& operator=(const Reader&) = delete;

  [[nodiscard]] virtual Tried open(const Stop& stop) = 0;
  /// One round of questions.
  [[nodiscard]] virtual Asked ask(const Stop& stop) = 0;
  virtual void close() = 0;
};

[[nodiscard]] std::unique_ptr<Reader> make_modbus_reader(const deck::Instrument& instrument);
[[nodiscard]] std::unique_ptr<Reader> make_weight_reader(const deck::Instrument& instrument);

}  // namespace weighwright::link
