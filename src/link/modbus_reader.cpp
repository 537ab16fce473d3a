#include <modbus/modbus.h>
#include <sys/select.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <chrono>
#include <cstdint>
#include <span>

#include "link/channel.h"
#include "link/modbus_answer.h"
#include "link/reader.h"
#include "link/register_spans.h"
#include "link/register_value.h"

namespace weighwright::link {

namespace {

using Clock = std::chrono::steady_clock;

/// Once an answer has begun its rest must come within this; a wait in libmodbus can't be broken
/// off.
constexpr double kRest_s = 0.5;
constexpr int kMostStrangeAnswers = 16;
constexpr int kLastTransaction = 65535;

struct ContextEnd {
  void operator()(modbus_t* context) const {
    modbus_close(context);
    modbus_free(context);
  }
};
using Context = std::unique_ptr<modbus_t, ContextEnd>;

struct CameBack {
  enum class Kind { frame, nothing, damaged, gone };
  Kind kind = Kind::nothing;
  std::vector<std::uint8_t> frame;
  std::string says;
};

char letter_of(deck::Parity parity) {
  switch (parity) {
    case deck::Parity::even:
      return 'E';
    case deck::Parity::odd:
      return 'O';
    case deck::Parity::none:
      break;
  }
  return 'N';
}

/// Registers whose answer takes less than four fifths of kRest_s on this line: 11 bits a byte,
/// 5 bytes around the registers.
int most_registers(const deck::Instrument& instrument) {
  if (instrument.kind == deck::LinkKind::modbus_tcp) return kMostRegistersARequest;
  const int bytes = static_cast<int>(0.8 * kRest_s * instrument.baud / 11.0);
  return std::clamp((bytes - 5) / 2, 2, kMostRegistersARequest);
}

class ModbusReader final : public Reader {
 public:
  explicit ModbusReader(const deck::Instrument& instrument)
      : instrument_(instrument),
        spans_(plan_spans(instrument.registers, most_registers(instrument))) {}

  Tried open(const Stop& stop) override {
    close();
    return over_tcp() ? open_network(stop) : open_line();
  }

  void close() override { context_.reset(); }

  Asked ask(const Stop& stop) override {
    Asked asked;
    asked.result = Asked::Result::answered;
    std::size_t refusals = 0;
    if (!context_) return {Asked::Result::broken, false, {}, "not connected"};
    // spans_ may grow on the way
    for (std::size_t i = 0; i < spans_.size(); ++i) {
      const ModbusAnswer answer = ask_span(spans_[i], stop, asked);
      if (asked.result != Asked::Result::answered) return asked;
      if (split_refused(answer, i)) {
        --i;
        continue;
      }
      if (answer.kind == ModbusAnswer::Kind::exception) {
        ++refusals;
        asked.says = answer.says;
      }
      take(answer, spans_[i], asked);
    }
    asked.refused = refusals == spans_.size();
    return asked;
  }

 private:
  [[nodiscard]] bool over_tcp() const { return deck::is_over_network(instrument_.kind); }

  Tried open_network(const Stop& stop) {
    Opened opened =
        open_tcp(lookup_, instrument_.host, instrument_.port, instrument_.timeout_s, stop);
    if (!opened.descriptor) return {false, opened.refused, opened.says};
    // the address in here is not used: the connection is ours
    context_.reset(modbus_new_tcp("127.0.0.1", instrument_.port));
    return take_over(opened.descriptor);
  }

  Tried take_over(Descriptor& descriptor) {
    // libmodbus waits with select(2), which holds only so many descriptors
    if (!context_ || descriptor.value() >= FD_SETSIZE) {
      context_.reset();
      return {false, false, "this program has too many connections open"};
    }
    modbus_set_socket(context_.get(), descriptor.release());
    return {true, false, {}};
  }

  Tried open_line() {
    context_.reset(modbus_new_rtu(instrument_.device.c_str(), instrument_.baud,
                                  letter_of(instrument_.parity), instrument_.data_bits,
                                  instrument_.stop_bits));
    if (!context_ || modbus_set_slave(context_.get(), instrument_.unit) != 0) {
      context_.reset();
      return {false, true, serial_words(instrument_.device, EINVAL)};
    }
    if (modbus_connect(context_.get()) != 0) {
      const int error = errno;
      context_.reset();
      return {false, error == EACCES || error == EBUSY, serial_words(instrument_.device, error)};
    }
    if (modbus_get_socket(context_.get()) >= FD_SETSIZE) {
      context_.reset();
      return {false, false, "this program has too many connections open"};
    }
    return {true, false, {}};
  }

  /// Sets asked.result when nothing (sound) came.
  ModbusAnswer ask_span(const RegisterSpan& span, const Stop& stop, Asked& asked) {
    transaction_ = transaction_ == kLastTransaction ? 1 : transaction_ + 1;
    const ModbusQuestion question{instrument_.unit,
                                  span.table == deck::RegisterTable::holding ? 3 : 4, span.address,
                                  span.count, transaction_};
    if (!send(question, stop)) {
      return fail(asked, Asked::Result::broken, "the connection is gone");
    }
    const Clock::time_point end =
        Clock::now() + std::chrono::duration_cast<Clock::duration>(
                           std::chrono::duration<double>(instrument_.timeout_s));
    for (int strange = 0; strange < kMostStrangeAnswers; ++strange) {
      const CameBack came = receive(end, stop);
      switch (came.kind) {
        case CameBack::Kind::gone:
          return fail(asked, Asked::Result::broken, came.says);
        case CameBack::Kind::damaged:
          return fail(asked, over_tcp() ? Asked::Result::broken : Asked::Result::unanswered,
                      came.says);
        case CameBack::Kind::nothing:
          if (strange > 0) return fail(asked, Asked::Result::broken, asked.says);
          return fail(asked, Asked::Result::unanswered, "no answer");
        case CameBack::Kind::frame:
          break;
      }
      ModbusAnswer answer = over_tcp() ? read_tcp_answer(question, came.frame)
                                       : read_serial_answer(question, came.frame);
      if (answer.kind == ModbusAnswer::Kind::wrong) {
        return fail(asked, over_tcp() ? Asked::Result::broken : Asked::Result::unanswered,
                    answer.says);
      }
      if (answer.kind != ModbusAnswer::Kind::other_question) {
        asked.says.clear();
        return answer;
      }
      asked.says = answer.says;  // too late, of an earlier question: the right one may follow
    }
    return fail(asked, Asked::Result::broken, asked.says);
  }

  static ModbusAnswer fail(Asked& asked, Asked::Result result, std::string says) {
    asked.result = result;
    asked.says = std::move(says);
    return {};
  }

  bool send(const ModbusQuestion& question, const Stop& stop) {
    if (over_tcp()) {
      // not through libmodbus: it numbers no raw questions, and the number tells late answers
      const std::vector<std::uint8_t> frame = print_tcp_question(question);
      const std::string bytes(frame.begin(), frame.end());
      return send_all(modbus_get_socket(context_.get()), bytes, instrument_.timeout_s, stop);
    }
    // silence of 3.5 characters, at least 1.75 ms, before a question (Modbus over Serial Line
    // V1.02, 2.5.1.1; from memory)
    if (stop.wait(std::max(3.5 * 11.0 / instrument_.baud, 1.75e-3))) return false;
    modbus_flush(context_.get());
    const std::vector<std::uint8_t> data = print_question(question);
    return modbus_send_raw_request(context_.get(), data.data(), static_cast<int>(data.size())) > 0;
  }

  CameBack receive(Clock::time_point end, const Stop& stop) {
    const double left = std::chrono::duration<double>(end - Clock::now()).count();
    switch (stop.readable(modbus_get_socket(context_.get()), std::max(left, 0.0))) {
      case Stop::Ready::stopped:
      case Stop::Ready::time_is_up:
        return {};
      case Stop::Ready::yes:
        break;
    }
    // 0 between bytes: the whole rest must come within the other one (libmodbus,
    // modbus_set_byte_timeout)
    modbus_set_byte_timeout(context_.get(), 0, 0);
    modbus_set_response_timeout(context_.get(), 0, static_cast<std::uint32_t>(kRest_s * 1e6));
    std::array<std::uint8_t, MODBUS_MAX_ADU_LENGTH> buffer{};
    const int count = modbus_receive_confirmation(context_.get(), buffer.data());
    if (count > 0) {
      return {CameBack::Kind::frame, {buffer.begin(), buffer.begin() + count}, {}};
    }
    return wrong_frame(count == 0 ? 0 : errno);
  }

  /// @param error  errno of libmodbus; 0: a frame of another unit
  [[nodiscard]] CameBack wrong_frame(int error) const {
    using Kind = CameBack::Kind;
    if (error == 0) return {Kind::damaged, {}, "another unit than the one asked has answered"};
    if (error == ETIMEDOUT) return {Kind::damaged, {}, "an answer began and did not end"};
    if (error == EMBBADCRC) {
      return {Kind::damaged, {}, "answers are damaged (CRC): baud, parity, wiring?"};
    }
    if (error == EMBBADDATA) return {Kind::damaged, {}, "what answers there does not speak Modbus"};
    return {Kind::gone,
            {},
            over_tcp() ? "the instrument closed the connection"
                       : instrument_.device + " is gone: is the adapter still plugged in?"};
  }

  /// An instrument may refuse to give several values at once: from then on one at a time.
  bool split_refused(const ModbusAnswer& answer, std::size_t at) {
    const bool refused = answer.kind == ModbusAnswer::Kind::exception &&
                         (answer.exception == 2 || answer.exception == 3);
    if (!refused || spans_[at].places.size() < 2) return false;
    const std::vector<RegisterSpan> single = split_span(spans_[at], instrument_.registers);
    const auto here = spans_.begin() + static_cast<std::ptrdiff_t>(at);
    spans_.insert(spans_.erase(here), single.begin(), single.end());
    return true;
  }

  void take(const ModbusAnswer& answer, const RegisterSpan& span, Asked& asked) const {
    for (const std::size_t place : span.places) {
      const deck::Register& one = instrument_.registers[place];
      Reading reading;
      reading.place = place;
      reading.unit = one.unit;
      reading.resolution = resolution_of(one);
      if (answer.kind == ModbusAnswer::Kind::exception) {
        reading.says = answer.says;
      } else {
        const auto words = std::span(answer.registers)
                               .subspan(static_cast<std::size_t>(one.address - span.address),
                                        static_cast<std::size_t>(deck::words_of(one.type)));
        RegisterValue value = read_registers(one, words);
        reading.value = value.value;
        reading.typed = std::move(value.typed);
        reading.says = std::move(value.says);
        reading.exchanged = value.exchanged;
      }
      asked.readings.push_back(std::move(reading));
    }
  }

  deck::Instrument instrument_;
  std::vector<RegisterSpan> spans_;
  HostLookup lookup_;
  Context context_;
  int transaction_ = 0;
};

}  // namespace

std::unique_ptr<Reader> make_modbus_reader(const deck::Instrument& instrument) {
  return std::make_unique<ModbusReader>(instrument);
}

}  // namespace weighwright::link
