#include <modbus/modbus.h>

#include <cerrno>
#include <cstdint>
#include <system_error>
#include <unordered_map>

#include "link/answering.h"
#include "link/loopback.h"
#include "link/register_spans.h"
#include "link/register_value.h"

namespace weighwright::link {

namespace {

// Modbus Messaging on TCP/IP: transaction, protocol 0, length, unit; from memory
constexpr std::size_t kHeader = 7;
constexpr std::size_t kReadFrame = 12;
constexpr std::size_t kLongestFrame = 260;

using Words = std::unordered_map<int, std::uint16_t>;

struct ContextEnd {
  void operator()(modbus_t* context) const { modbus_free(context); }  // the sockets are not its own
};
struct MappingEnd {
  void operator()(modbus_mapping_t* mapping) const { modbus_mapping_free(mapping); }
};

int word(const std::string& bytes, std::size_t at) {
  return (static_cast<unsigned char>(bytes[at]) << 8) | static_cast<unsigned char>(bytes[at + 1]);
}

/// The registers of one table as they stand now.
Words words_now(const deck::Instrument& instrument,
                deck::RegisterTable table,
                const std::vector<Shown>& shown) {
  Words words;
  for (const deck::Register& one : instrument.registers) {
    if (one.table != table) continue;
    std::optional<double> value;
    for (const Shown& now : shown) {
      if (now.place == one.place && !now.over) value = now.value;
    }
    const std::vector<std::uint16_t> raw = print_registers(one, value);
    for (std::size_t i = 0; i < raw.size(); ++i) {
      words[one.address + static_cast<int>(i)] = raw[i];
    }
  }
  return words;
}

/// Frames to replies; the replies are libmodbus's.
class ModbusServer {
 public:
  ModbusServer(deck::Instrument instrument, ShowNow show)
      : instrument_(std::move(instrument)),
        show_(std::move(show)),
        context_(modbus_new_tcp("127.0.0.1", MODBUS_TCP_DEFAULT_PORT)) {
    if (!context_) throw std::system_error(errno, std::generic_category(), "libmodbus");
  }

  /// Every whole frame of what has come. False: this is no Modbus.
  bool serve(int fd, std::string& pending) {
    while (pending.size() >= kHeader) {
      const auto length = static_cast<std::size_t>(word(pending, 4)) + 6;
      if (word(pending, 2) != 0 || length < kHeader + 1 || length > kLongestFrame) return false;
      if (pending.size() < length) return true;
      modbus_set_socket(context_.get(), fd);
      if (!answer(pending.substr(0, length))) return false;
      pending.erase(0, length);
    }
    return true;
  }

 private:
  bool answer(const std::string& frame) {
    const int unit = static_cast<unsigned char>(frame[6]);
    const int function = static_cast<unsigned char>(frame[7]);
    if (unit != instrument_.unit && unit != 0 && unit != MODBUS_TCP_SLAVE) {
      return refuse(frame, MODBUS_EXCEPTION_GATEWAY_TARGET);
    }
    if (function != MODBUS_FC_READ_HOLDING_REGISTERS &&
        function != MODBUS_FC_READ_INPUT_REGISTERS) {
      return refuse(frame, MODBUS_EXCEPTION_ILLEGAL_FUNCTION);
    }
    if (frame.size() != kReadFrame) return refuse(frame, MODBUS_EXCEPTION_ILLEGAL_DATA_VALUE);
    const int address = word(frame, 8);
    const int count = word(frame, 10);
    if (count < 1 || count > kMostRegistersARequest) {
      return refuse(frame, MODBUS_EXCEPTION_ILLEGAL_DATA_VALUE);
    }
    const Words words =
        words_now(instrument_,
                  function == MODBUS_FC_READ_HOLDING_REGISTERS ? deck::RegisterTable::holding
                                                               : deck::RegisterTable::input,
                  show_());
    const std::unique_ptr<modbus_mapping_t, MappingEnd> mapping(modbus_mapping_new_start_address(
        0, 0, 0, 0, static_cast<unsigned>(address), static_cast<unsigned>(count),
        static_cast<unsigned>(address), static_cast<unsigned>(count)));
    if (!mapping) return refuse(frame, MODBUS_EXCEPTION_SLAVE_OR_SERVER_FAILURE);
    for (int i = 0; i < count; ++i) {
      const auto found = words.find(address + i);
      if (found == words.end()) return refuse(frame, MODBUS_EXCEPTION_ILLEGAL_DATA_ADDRESS);
      mapping->tab_registers[i] = found->second;
      mapping->tab_input_registers[i] = found->second;
    }
    return modbus_reply(context_.get(), bytes(frame), static_cast<int>(frame.size()),
                        mapping.get()) > 0;
  }

  bool refuse(const std::string& frame, unsigned exception) {
    return modbus_reply_exception(context_.get(), bytes(frame), exception) > 0;
  }

  static const std::uint8_t* bytes(const std::string& frame) {
    return reinterpret_cast<const std::uint8_t*>(frame.data());
  }

  deck::Instrument instrument_;
  ShowNow show_;
  std::unique_ptr<modbus_t, ContextEnd> context_;
};

}  // namespace

struct AnsweringModbus::State {
  State(const deck::Instrument& instrument, int port, ShowNow show)
      : server(instrument, std::move(show)),
        loopback(port, Descriptor(), [this](int fd, std::string& pending) {
          return server.serve(fd, pending);
        }) {}

  ModbusServer server;
  Loopback loopback;
};

AnsweringModbus::AnsweringModbus(const deck::Instrument& instrument, int port, ShowNow show)
    : state_(std::make_unique<State>(instrument, port, std::move(show))) {}

AnsweringModbus::~AnsweringModbus() = default;

int AnsweringModbus::port() const {
  return state_->loopback.port();
}

}  // namespace weighwright::link
