#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>

#include "link/channel.h"
#include "link/reader.h"
#include "link/weight_line.h"
#include "units/diagnostic.h"
#include "units/quantity.h"

namespace weighwright::link {

namespace {

using Clock = std::chrono::steady_clock;

constexpr std::size_t kPiece = 1024;
/// More than this without one sound reply is babble.
constexpr std::size_t kMostStray = 16384;
constexpr double kTonne_kg = 1000.0;

std::string status_words(WeightStatus status) {
  switch (status) {
    case WeightStatus::over:
      return "over: more lies on the deck than the instrument shows";
    case WeightStatus::under:
      return "under: less lies on the deck than the instrument shows";
    case WeightStatus::zero_error:
      return "zero error: the instrument could not set its zero";
    case WeightStatus::initial_zero_error:
      return "initial zero error: the deck was not empty when the instrument was switched on";
    case WeightStatus::tare_error:
      return "tare error: the instrument did not take a tare";
    case WeightStatus::normal:
    case WeightStatus::centre_of_zero:
      break;
  }
  return {};
}

int decimals_in(const std::string& typed) {
  const std::size_t point = typed.find('.');
  return point == std::string::npos ? 0 : static_cast<int>(typed.size() - point) - 1;
}

/// A reply as a reading of the indication, in kg or lb.
Reading reading_of(const WeightReply& reply, double step_kg) {
  Reading out;
  out.moving = reply.moving;
  out.says = status_words(reply.status);
  if (!out.says.empty()) return out;
  if (reply.kind == WeightKind::tare) {
    out.says = "the instrument shows a tare, not a weight";
    return out;
  }
  if (reply.kind == WeightKind::net) {
    // Neither zero nor a load can be read from it.
    out.says = "net weight: a tare is set; clear it at the instrument";
    return out;
  }
  if (!reply.value) {
    out.says = "the instrument sends no figure";
    return out;
  }
  double least = reply.last_digit;
  if (reply.unit == "kg") {
    out.value = reply.value;
    out.typed = reply.typed;
  } else if (reply.unit == "lb") {
    out.unit = deck::LiveUnit::lb;
    out.value = reply.value;
    out.typed = reply.typed;
    step_kg /= units::kPound_kg;
  } else if (reply.unit == "t") {
    out.value = *reply.value * kTonne_kg;
    out.typed = units::print_fixed(*out.value, std::max(0, decimals_in(reply.typed) - 3));
    least *= kTonne_kg;
  } else {
    out.says = "the instrument shows " + units::quote(reply.unit) + "; kg, lb or t are read";
    return out;
  }
  // in high resolution the display counts by a tenth (SCP-0499, level 2 command H)
  out.resolution = std::max(least, reply.high_resolution ? step_kg / 10.0 : step_kg);
  return out;
}

class WeightReader final : public Reader {
 public:
  explicit WeightReader(const deck::Instrument& instrument) : instrument_(instrument) {}

  Tried open(const Stop& stop) override {
    close();
    Opened opened = over_tcp() ? open_tcp(lookup_, instrument_.host, instrument_.port,
                                          instrument_.timeout_s, stop)
                               : open_serial(instrument_);
    if (!opened.descriptor) return {false, opened.refused, opened.says};
    way_ = std::move(opened.descriptor);
    return {true, false, {}};
  }

  void close() override {
    way_ = Descriptor();
    stream_ = WeightStream();
  }

  Asked ask(const Stop& stop) override {
    if (!way_) return {Asked::Result::broken, false, {}, "not connected"};
    if (!drain()) return broken(gone());
    if (!send_all(way_.value(), kAskWeight, instrument_.timeout_s, stop)) return broken(gone());
    const Clock::time_point end =
        Clock::now() + std::chrono::duration_cast<Clock::duration>(
                           std::chrono::duration<double>(instrument_.timeout_s));
    std::string trouble = "no answer";
    while (true) {
      const double left = std::chrono::duration<double>(end - Clock::now()).count();
      const Stop::Ready ready = stop.readable(way_.value(), std::max(left, 0.0));
      if (ready != Stop::Ready::yes)
        return {Asked::Result::unanswered, false, {}, silence(trouble)};
      const std::size_t before = stream_.stray_bytes();
      std::array<char, kPiece> piece{};
      const Received came = receive_now(way_.value(), piece.data(), piece.size());
      if (came.ended) return broken(gone());
      for (const LineEvent& event : stream_.feed({piece.data(), came.count})) {
        if (event.kind == LineEvent::Kind::malformed) {
          trouble = event.says;
        } else {
          return answer(event);
        }
      }
      if (trouble == "no answer" && stream_.stray_bytes() > before) {
        trouble = "what comes is no reply of this protocol: baud, parity, another mode of output?";
      }
      if (stream_.stray_bytes() > kMostStray) return broken(trouble);
      if (left <= 0.0) return {Asked::Result::unanswered, false, {}, trouble};
    }
  }

 private:
  [[nodiscard]] bool over_tcp() const { return deck::is_over_network(instrument_.kind); }

  [[nodiscard]] std::string gone() const {
    return over_tcp() ? "the instrument closed the connection"
                      : instrument_.device + " is gone: is the adapter still plugged in?";
  }

  [[nodiscard]] std::string silence(const std::string& trouble) const {
    return stream_.inside() && trouble == "no answer" ? "an answer began and did not end" : trouble;
  }

  static Asked broken(std::string says) {
    return {Asked::Result::broken, false, {}, std::move(says)};
  }

  /// Forgets what came without being asked for: the answer must be of now. False: the end.
  bool drain() {
    std::array<char, kPiece> piece{};
    for (std::size_t got = 0; got < kMostStray;) {
      const Received came = receive_now(way_.value(), piece.data(), piece.size());
      if (came.ended) return false;
      if (came.count == 0) break;
      got += came.count;
    }
    stream_.clear();
    return true;
  }

  [[nodiscard]] Asked answer(const LineEvent& event) const {
    if (event.kind == LineEvent::Kind::communication_error) {
      return {Asked::Result::unanswered,
              false,
              {},
              "the instrument could not read the question: baud, parity, wiring?"};
    }
    Asked asked;
    asked.result = Asked::Result::answered;
    if (event.kind == LineEvent::Kind::unknown_command) {
      asked.refused = true;
      asked.says = "the instrument does not know the question for a weight (W)";
      Reading none;
      none.says = asked.says;
      asked.readings.push_back(none);
      return asked;
    }
    asked.readings.push_back(reading_of(event.weight, instrument_.step_kg));
    return asked;
  }

  deck::Instrument instrument_;
  HostLookup lookup_;
  Descriptor way_;
  WeightStream stream_;
};

}  // namespace

std::unique_ptr<Reader> make_weight_reader(const deck::Instrument& instrument) {
  return std::make_unique<WeightReader>(instrument);
}

}  // namespace weighwright::link
