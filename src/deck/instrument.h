#pragma once
/// Instruments that are read live, as the deck file describes them ([[instrument]]). Data only.

#include <string>
#include <vector>

namespace weighwright::deck {

enum class LinkKind {
  modbus_tcp,
  modbus_rtu,
  weight_line,  // the open serial protocol for weights, on a serial line
  weight_tcp    // the same over TCP
};

[[nodiscard]] constexpr bool is_modbus(LinkKind kind) {
  return kind == LinkKind::modbus_tcp || kind == LinkKind::modbus_rtu;
}
[[nodiscard]] constexpr bool is_over_network(LinkKind kind) {
  return kind == LinkKind::modbus_tcp || kind == LinkKind::weight_tcp;
}

enum class RegisterTable { holding, input };
enum class RegisterType { int16, uint16, int32, uint32, float32 };
enum class Order { high_first, low_first };
enum class Parity { none, even, odd };

/// What the value of a register is, after `scale`.
enum class LiveUnit { mV, mV_per_V, counts, kg, lb };

/// Registers of 16 bits that a value takes.
[[nodiscard]] constexpr int words_of(RegisterType type) {
  return type == RegisterType::int16 || type == RegisterType::uint16 ? 1 : 2;
}

/// One value in an instrument.
struct Register {
  std::string place;  // a stand, "2L", or "indication": what the whole deck shows
  LiveUnit unit = LiveUnit::kg;
  int address = 0;  // in the protocol data unit: from 0
  RegisterTable table = RegisterTable::holding;
  RegisterType type = RegisterType::int32;
  Order word_order = Order::high_first;  // of two registers
  Order byte_order = Order::high_first;  // in one register
  double scale = 1.0;                    // value = raw * scale
  double step = 0.0;                     // of the value; 0: the scale (whole numbers), or unknown
};

struct Instrument {
  std::string name;
  LinkKind kind = LinkKind::modbus_tcp;
  std::string host;  // modbus_tcp, weight_tcp
  int port = 0;
  std::string device;  // modbus_rtu, weight_line: "/dev/ttyUSB0"
  int baud = 9600;
  Parity parity = Parity::none;
  int data_bits = 8;
  int stop_bits = 1;
  int unit = 1;            // modbus: 1..247; modbus_tcp also 0 and 255 (no unit behind it)
  double every_s = 0.5;    // between two questions
  double timeout_s = 1.0;  // for an answer
  double stale_s = 3.0;    // older values are shown as stale
  /// weight_line, weight_tcp: what the display counts by; 0: one of the last digit that it shows.
  double step_kg = 0.0;
  std::vector<Register> registers;  // modbus; weight_line and weight_tcp give "indication"
};

}  // namespace weighwright::deck
