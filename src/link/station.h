#pragma once
/// All instruments of a deck, read live in the background. Reads only: nothing is ever written to
/// an instrument.
///
/// Errors: an instrument that is silent, slow, gone or lies is a state of it with a sentence, never
/// an exception. Only the constructor may throw (std::system_error: no thread).

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "deck/instrument.h"
#include "link/place_limits.h"

namespace weighwright::link {

enum class Quality {
  silent,  // nothing ever came
  stable,
  moving,  // or listened to for too short a time to say
  stale,   // nothing came for longer than the instrument's `stale`; `value` is the last one
  bad,     // the last answer is no value (over, no number, refused, more than deck and cells can
           // give): `value` is empty
  unexplained  // it came, and no load on this deck explains it: a faulty scale, or the wrong
               // register; never stable
};

struct LiveValue {
  std::string place;
  deck::LiveUnit unit = deck::LiveUnit::kg;
  std::optional<double> value;  // the last one
  std::string typed;            // with its digits
  double resolution = 0.0;      // 0: unknown
  Quality quality = Quality::silent;
  std::string says;              // what is wrong
  std::int64_t age_ms = 0;       // of the last value
  std::optional<double> mean;    // of the stable window; only when stable
  std::optional<double> noise;   // standard deviation of one value in it
  std::optional<double> u_mean;  // of the mean
  int samples = 0;
};

enum class LinkState {
  connecting,
  connected,
  waiting,  // not reached, or gone: next try in next_try_ms
  refused   // somebody is there and says no: the port, the permission, or every question
};

struct InstrumentNow {
  std::string name;
  std::string address;  // "modbus-tcp 192.0.2.7:502, unit 1"
  LinkState state = LinkState::connecting;
  std::string says;              // the last trouble; empty: none
  std::int64_t next_try_ms = 0;  // waiting, refused: until then; 0: it is being asked
  std::vector<LiveValue> values;
};

/// Where and how it is asked: "modbus-tcp 192.0.2.7:502, unit 1".
[[nodiscard]] std::string address_of(const deck::Instrument& instrument);

class Station {
 public:
  /// @param limits  of each instrument's places, in their order; left out: not known
  explicit Station(std::vector<deck::Instrument> instruments,
                   std::vector<std::vector<PlaceLimits>> limits = {});
  ~Station();  // ends the threads within a second
  Station(const Station&) = delete;
  Station& operator=(const Station&) = delete;

  [[nodiscard]] std::vector<InstrumentNow> look() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace weighwright::link
