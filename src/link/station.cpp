#include "link/station.h"

#include <algorithm>
#include <chrono>
#include <exception>
#include <mutex>
#include <system_error>
#include <thread>
#include <utility>

#include "link/backoff.h"
#include "link/place_record.h"
#include "link/reader.h"
#include "link/stop.h"

namespace weighwright::link {

namespace {

using Clock = std::chrono::steady_clock;

constexpr double kLeastPause_s = 0.02;

std::int64_t now_ms() {
  return std::chrono::duration_cast<std::chrono::milliseconds>(Clock::now().time_since_epoch())
      .count();
}

std::vector<PlaceRecord> records_of(const deck::Instrument& instrument,
                                    const std::vector<PlaceLimits>& limits) {
  std::vector<PlaceRecord> records;
  const auto add = [&](const std::string& place, deck::LiveUnit unit) {
    const std::size_t at = records.size();
    records.emplace_back(place, unit, instrument.every_s, instrument.stale_s,
                         at < limits.size() ? limits[at] : PlaceLimits{});
  };
  if (!deck::is_modbus(instrument.kind)) {
    add("indication", deck::LiveUnit::kg);
    return records;
  }
  for (const deck::Register& one : instrument.registers) add(one.place, one.unit);
  return records;
}

/// One instrument: its thread writes, everybody reads.
class Watch {
 public:
  Watch(deck::Instrument instrument, const std::vector<PlaceLimits>& limits, const Stop& stop)
      : instrument_(std::move(instrument)),
        stop_(&stop),
        reader_(deck::is_modbus(instrument_.kind) ? make_modbus_reader(instrument_)
                                                  : make_weight_reader(instrument_)),
        records_(records_of(instrument_, limits)) {
    shown_.name = instrument_.name;
    shown_.address = address_of(instrument_);
  }

  void run() {
    while (!stop_->raised()) {
      try {
        connect_and_ask();
      } catch (const std::exception& error) {  // no memory, say: this instrument, not the program
        reader_->close();
        wait_before_next(error.what(), false);
      }
    }
  }

  [[nodiscard]] InstrumentNow look() const {
    const std::scoped_lock lock(mutex_);
    InstrumentNow now = shown_;
    const std::int64_t time_ms = now_ms();
    now.next_try_ms =
        next_try_at_ms_ == 0 ? 0 : std::max<std::int64_t>(0, next_try_at_ms_ - time_ms);
    for (const PlaceRecord& record : records_) now.values.push_back(record.show(time_ms));
    return now;
  }

 private:
  /// Ends when the way to the instrument is lost, after the wait before the next try.
  void connect_and_ask() {
    tell(LinkState::connecting, std::nullopt);
    const Tried tried = reader_->open(*stop_);
    if (!tried.open) {
      wait_before_next(tried.says, tried.refused);
      return;
    }
    tell(LinkState::connected, std::nullopt);
    const std::string trouble = ask_until_broken();
    reader_->close();
    wait_before_next(trouble, false);
  }

  /// Why it ended.
  std::string ask_until_broken() {
    Clock::time_point heard = Clock::now();
    while (true) {
      const Clock::time_point begin = Clock::now();
      const Asked asked = reader_->ask(*stop_);
      if (stop_->raised()) return {};
      take(asked);
      if (asked.result == Asked::Result::answered) {
        heard = Clock::now();
        backoff_.succeeded();
      }
      const double silent_s = std::chrono::duration<double>(Clock::now() - heard).count();
      if (asked.result == Asked::Result::broken || silent_s > instrument_.stale_s)
        return asked.says;
      const double spent_s = std::chrono::duration<double>(Clock::now() - begin).count();
      if (stop_->wait(std::max(instrument_.every_s - spent_s, kLeastPause_s))) return {};
    }
  }

  void take(const Asked& asked) {
    const std::scoped_lock lock(mutex_);
    shown_.says = asked.says;
    if (asked.result == Asked::Result::answered) {
      shown_.state = asked.refused ? LinkState::refused : LinkState::connected;
    }
    const std::int64_t time_ms = now_ms();
    for (const Reading& reading : asked.readings) {
      if (reading.place < records_.size()) records_[reading.place].take(time_ms, reading);
    }
  }

  /// An empty `says` leaves the last trouble standing.
  void tell(LinkState state, const std::optional<std::string>& says) {
    const std::scoped_lock lock(mutex_);
    shown_.state = state;
    if (says) shown_.says = *says;
    next_try_at_ms_ = 0;
  }

  void wait_before_next(const std::string& says, bool refused) {
    const double wait_s = backoff_.next_s();
    tell(refused ? LinkState::refused : LinkState::waiting, says);
    {
      const std::scoped_lock lock(mutex_);
      next_try_at_ms_ = now_ms() + static_cast<std::int64_t>(1000.0 * wait_s);
    }
    static_cast<void>(stop_->wait(wait_s));
  }

  deck::Instrument instrument_;
  const Stop* stop_;
  std::unique_ptr<Reader> reader_;
  Backoff backoff_;
  mutable std::mutex mutex_;  // what follows
  InstrumentNow shown_;
  std::vector<PlaceRecord> records_;
  std::int64_t next_try_at_ms_ = 0;
};

}  // namespace

struct Station::State {
  ~State() {
    stop.raise();
    for (std::thread& thread : threads) thread.join();
  }

  Stop stop;
  std::vector<std::unique_ptr<Watch>> watches;
  std::vector<std::thread> threads;
};

Station::Station(std::vector<deck::Instrument> instruments,
                 std::vector<std::vector<PlaceLimits>> limits)
    : state_(std::make_unique<State>()) {
  limits.resize(instruments.size());
  for (std::size_t i = 0; i < instruments.size(); ++i) {
    state_->watches.push_back(
        std::make_unique<Watch>(std::move(instruments[i]), limits[i], state_->stop));
    state_->threads.emplace_back([watch = state_->watches.back().get()] { watch->run(); });
  }
}

Station::~Station() = default;

std::vector<InstrumentNow> Station::look() const {
  std::vector<InstrumentNow> all;
  for (const auto& watch : state_->watches) all.push_back(watch->look());
  return all;
}

std::string address_of(const deck::Instrument& instrument) {
  const std::string unit = ", unit " + std::to_string(instrument.unit);
  const std::string host = instrument.host.find(':') == std::string::npos
                               ? instrument.host
                               : "[" + instrument.host + "]";
  const std::string network = host + ":" + std::to_string(instrument.port);
  const std::string line = instrument.device + ", " + std::to_string(instrument.baud) + " baud";
  switch (instrument.kind) {
    case deck::LinkKind::modbus_tcp:
      return "modbus-tcp " + network + unit;
    case deck::LinkKind::modbus_rtu:
      return "modbus-rtu " + line + unit;
    case deck::LinkKind::weight_line:
      return "weight-line " + line;
    case deck::LinkKind::weight_tcp:
      break;
  }
  return "weight-tcp " + network;
}

}  // namespace weighwright::link
