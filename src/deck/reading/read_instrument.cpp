#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "deck/instrument.h"
#include "deck/reading/find_table.h"
#include "deck/reading/raw_deck.h"
#include "deck/reading/table_reader.h"
#include "units/diagnostic.h"
#include "units/place.h"
#include "units/quantity.h"

namespace weighwright::deck::reading {

namespace {

using units::Kind;

constexpr std::size_t kMostInstruments = 32;
constexpr std::size_t kMostRegisters = 200;
constexpr int kLastAddress = 65535;
constexpr int kModbusPort = 502;  // registered for Modbus (IANA service names, "mbap"; from memory)

constexpr Limits kEvery{0.05, 60.0, "from 50 ms to 1 min"};
constexpr Limits kTimeout{0.05, 30.0, "from 50 ms to 30 s"};
constexpr Limits kStale{0.1, 3600.0, "from 0.1 s to 60 min"};
constexpr Limits kScale{-1e9, 1e9, "from -1e9 to 1e9, and not 0"};
constexpr Limits kStep{1e-9, 1e9, "more than 0"};

constexpr std::array<std::string_view, 4> kLinks = {"modbus-tcp", "modbus-rtu", "weight-line",
                                                    "weight-tcp"};
constexpr std::array<std::string_view, 5> kValues = {"mV", "mV/V", "counts", "kg", "lb"};
constexpr std::array<std::string_view, 2> kTables = {"holding", "input"};
constexpr std::array<std::string_view, 5> kTypes = {"int16", "uint16", "int32", "uint32",
                                                    "float32"};
constexpr std::array<std::string_view, 2> kOrders = {"high first", "low first"};
constexpr std::array<std::string_view, 3> kParities = {"none", "even", "odd"};
constexpr std::array<int, 9> kBauds = {1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200, 230400};

/// "0.5 s", "500 ms", "1 min" in seconds.
std::optional<double> read_time(TableReader& table, std::string_view key, const Limits& limits) {
  struct Unit {
    std::string_view name;
    double seconds;
  };
  static constexpr std::array kUnits = {Unit{"ms", 1e-3}, Unit{"min", 60.0}, Unit{"s", 1.0}};
  const Node* const node = table.node(key);
  if (node == nullptr) return std::nullopt;
  const std::string name(key);
  std::optional<double> seconds;
  if (node->type == Node::Type::text && node->text.find('%') == std::string::npos) {
    const std::string_view text = node->text;
    for (const Unit& unit : kUnits) {
      if (seconds || !text.ends_with(unit.name)) continue;
      const units::Parsed number =
          units::parse(text.substr(0, text.size() - unit.name.size()), Kind::fraction);
      if (number.ok()) seconds = number.value * unit.seconds;
    }
  }
  if (!seconds) {
    table.sink().fault(of_value(*node), name + " is no time",
                       R"(a time with its unit in quotation marks, as "0.5 s", "500 ms", "1 min")");
  } else if (*seconds < limits.lowest || *seconds > limits.highest) {
    table.sink().fault(of_value(*node), name + ": " + units::quote(node->text) + " is impossible",
                       std::string(limits.words));
    seconds.reset();
  }
  return seconds;
}

/// Keys that stand in a table and mean nothing there.
void refuse(TableReader& table,
            std::initializer_list<std::string_view> keys,
            const std::string& why,
            const std::string& right) {
  for (const std::string_view key : keys) {
    const Node* const node = table.node(key);
    if (node == nullptr) continue;
    table.sink().fault(of_key(*node), table.name() + " has " + std::string(key) + ", but " + why,
                       right);
  }
}

// ------------------------------------------------------------------------ [[instrument.register]]

class RegisterReader {
 public:
  RegisterReader(const RawDeck& raw, const Node& node, std::string name, FaultSink& sink)
      : table_(node, std::move(name), sink), stands_(2 * static_cast<int>(raw.sections.size())) {}

  std::optional<Register> read() {
    const std::size_t before = table_.sink().fault_count();
    table_.require("place", R"(a stand, as place = "2L", or "indication" for what the deck shows)");
    table_.require("value", R"(what it is after scale: "mV", "mV/V", "counts", "kg" or "lb")");
    table_.require("address", "from 0, as in the protocol data unit: 40001 of a manual is 0");
    table_.require("type",
                   R"(as the manual says: "int16", "uint16", "int32", "uint32", "float32")");
    read_place();
    if (const auto hit = table_.choice("value", kValues)) out_.unit = static_cast<LiveUnit>(*hit);
    if (const auto hit = table_.choice("table", kTables))
      out_.table = static_cast<RegisterTable>(*hit);
    if (const auto hit = table_.choice("type", kTypes)) out_.type = static_cast<RegisterType>(*hit);
    if (const auto hit = table_.choice("byte_order", kOrders))
      out_.byte_order = static_cast<Order>(*hit);
    read_word_order();
    read_address();
    read_scale();
    out_.step = table_.number("step", kStep).value_or(0.0);
    table_.finish();
    if (table_.sink().fault_count() > before) return std::nullopt;
    return out_;
  }

 private:
  void read_place() {
    const Node* const node = table_.node("place");
    if (node == nullptr) return;
    if (node->type != Node::Type::text) {
      table_.sink().fault(of_value(*node), "place is no text",
                          R"(a stand, as place = "2L", or "indication")");
      return;
    }
    out_.place = node->text;
    if (out_.place == "indication") return;
    const std::optional<units::StandIndex> stand = units::parse_stand(out_.place);
    const bool exists = stand && (stands_ == 0 || stand->value < stands_);
    if (exists) return;
    const std::string last = units::print(units::StandIndex{std::max(stands_, 2) - 1});
    table_.sink().fault(
        of_value(*node), "there is no stand " + units::quote(out_.place),
        "one of 1L, 1R, ... " + last + ", or \"indication\" for what the deck shows");
  }

  void read_word_order() {
    const auto hit = table_.choice("word_order", kOrders);
    if (!hit) return;
    out_.word_order = static_cast<Order>(*hit);
    if (words_of(out_.type) == 2) return;
    table_.sink().fault(of_key(*table_.node("word_order")),
                        "word_order is of two registers, but this value has one",
                        "leave word_order out, or type = \"int32\", \"uint32\" or \"float32\"");
  }

  void read_address() {
    static constexpr std::string_view kRight =
        "from 0 to 65535, as in the protocol data unit: what manuals call 40001 or 30001 is 0";
    const Node* const node = table_.node("address");
    if (node == nullptr) return;
    const bool whole = node->type == Node::Type::whole;
    if (!whole || node->number < 0 || node->number > kLastAddress) {
      const std::string typed = whole ? ": " + units::print_exact(node->number) : "";
      table_.sink().fault(of_value(*node), "address" + typed + " is no register address",
                          std::string(kRight));
      return;
    }
    out_.address = static_cast<int>(node->number);
    if (out_.address + words_of(out_.type) - 1 > kLastAddress) {
      table_.sink().fault(of_value(*node), "the second register of this value lies beyond 65535",
                          std::string(kRight));
    }
    note_manual_style(*node);
  }

  /// 40001 can be an address, but most often it is a manual's name for address 0.
  void note_manual_style(const Node& node) {
    const int base = out_.table == RegisterTable::holding ? 40001 : 30001;
    if (out_.address < base || out_.address >= base + 9999) return;
    table_.sink().note(
        of_value(node), "address " + std::to_string(out_.address) + " is asked for as it stands",
        "addresses count from 0; where the manual's register " + std::to_string(out_.address) +
            " is meant, write address = " + std::to_string(out_.address - base));
  }

  void read_scale() {
    const std::optional<double> scale = table_.number("scale", kScale);
    if (!scale) return;
    out_.scale = *scale;
    if (*scale != 0.0) return;
    table_.sink().fault(of_value(*table_.node("scale")), "scale is 0: every value would be 0",
                        "value = raw * scale, as scale = 0.001");
  }

  TableReader table_;
  int stands_;
  Register out_;
};

// --------------------------------------------------------------------------------- [[instrument]]

class InstrumentReader {
 public:
  InstrumentReader(RawDeck& raw, const Node& node, FaultSink& sink)
      : raw_(&raw), node_(&node), table_(node, "[[instrument]]", sink) {}

  std::optional<Instrument> read() {
    const std::size_t before = table_.sink().fault_count();
    table_.require("name", R"(a name of its own, as name = "cells")");
    table_.require("link", "one of " + units_list());
    read_name();
    const auto link = table_.choice("link", kLinks);
    if (link) {
      out_.kind = static_cast<LinkKind>(*link);
      link_ = std::string(kLinks[*link]);
      read_way();
      read_what();
    } else {  // what else is right depends on the link
      for (const std::string_view key : {"host", "port", "device", "baud", "parity", "data_bits",
                                         "stop_bits", "unit", "step", "register"}) {
        table_.allow(key);
      }
    }
    read_times();
    table_.finish();
    if (table_.sink().fault_count() > before) return std::nullopt;
    return out_;
  }

  /// Where each register of the instrument stands in the file.
  [[nodiscard]] const std::vector<Position>& registers_at() const { return registers_at_; }
  [[nodiscard]] Position at() const { return table_.at(); }

 private:
  static std::string units_list() {
    std::string list;
    for (const std::string_view link : kLinks)
      list += (list.empty() ? "\"" : ", \"") + std::string(link) + "\"";
    return list;
  }

  void read_name() {
    const auto name = table_.label("name");
    if (!name) return;
    out_.name = *name;
    const Position at = of_value(*table_.node("name"));
    const bool twice =
        std::any_of(raw_->deck.instruments.begin(), raw_->deck.instruments.end(),
                    [&](const Instrument& other) { return other.name == out_.name; });
    if (out_.name.empty()) {
      table_.sink().fault(at, "the name of an instrument is empty", R"(write name = "cells")");
    } else if (twice) {
      table_.sink().fault(at, "two instruments have the name " + units::quote(out_.name),
                          "each has its own name, by which the page shows it");
    }
  }

  /// Host and port, or device and line settings.
  void read_way() {
    if (is_over_network(out_.kind)) {
      read_host();
      refuse(table_, {"device", "baud", "parity", "data_bits", "stop_bits"},
             "link " + link_ + " goes over the network", "host and port; leave it out");
    } else {
      read_device();
      read_line();
      refuse(table_, {"host", "port"}, "link " + link_ + " is a serial line",
             R"(device = "/dev/ttyUSB0"; leave it out)");
    }
  }

  void read_host() {
    table_.require("host", R"(its address in the network, as host = "192.0.2.7")");
    const auto host = table_.text("host");
    out_.host = host.value_or("");
    const bool sound =
        !host || (!host->empty() && host->size() <= 253 &&
                  host->find_first_of(" \t\r\n/") == std::string::npos && units::is_utf8(*host));
    if (!sound) {
      table_.sink().fault(
          of_value(*table_.node("host")), "host " + units::quote(*host) + " is no address",
          R"(an address or a name without http:// and without port, as "192.0.2.7")");
    }
    if (out_.kind == LinkKind::weight_tcp) {
      table_.require("port", "as the instrument or its converter is set, as port = 10001");
    }
    const int usual = out_.kind == LinkKind::modbus_tcp ? kModbusPort : 0;
    out_.port = table_.whole("port", 1, 65535).value_or(usual);
  }

  void read_device() {
    table_.require("device", R"(the serial port of this machine, as device = "/dev/ttyUSB0")");
    const auto device = table_.text("device");
    if (!device) return;
    out_.device = *device;
    if (device->starts_with('/') && device->size() < 4096 &&
        device->find('\0') == std::string::npos)
      return;
    table_.sink().fault(of_value(*table_.node("device")),
                        "device " + units::quote(*device) + " is no serial port",
                        R"(its whole path, as device = "/dev/ttyUSB0")");
  }

  void read_line() {
    if (const auto baud = table_.whole("baud", kBauds.front(), kBauds.back())) {
      out_.baud = *baud;
      if (std::find(kBauds.begin(), kBauds.end(), *baud) == kBauds.end()) {
        table_.sink().fault(
            of_value(*table_.node("baud")), "baud " + std::to_string(*baud) + " is not usual",
            "1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200 or 230400, as the instrument");
      }
    }
    if (const auto hit = table_.choice("parity", kParities))
      out_.parity = static_cast<Parity>(*hit);
    // RTU sends bytes of 8 bits (Modbus over Serial Line V1.02, 2.5.1; from memory)
    const int fewest = out_.kind == LinkKind::modbus_rtu ? 8 : 7;
    out_.data_bits = table_.whole("data_bits", fewest, 8).value_or(out_.data_bits);
    out_.stop_bits = table_.whole("stop_bits", 1, 2).value_or(out_.stop_bits);
  }

  void read_what() {
    if (is_modbus(out_.kind)) {
      refuse(table_, {"step"}, "a Modbus instrument has a step for each register",
             "write step in its [[instrument.register]]");
      read_unit();
      read_registers();
    } else {
      const std::string right = "it shows one value, the indication; leave it out";
      refuse(table_, {"unit", "register"}, "link " + link_ + " has no registers", right);
      out_.step_kg = table_.quantity("step", Kind::mass, kInterval).value_or(coarsest_display_kg());
    }
  }

  /// d where the display counts coarsest: what it shows there is not taken for finer than it is.
  [[nodiscard]] double coarsest_display_kg() const {
    return raw_->deck.display_at_kg(raw_->deck.capacity_kg);
  }

  void read_unit() {
    if (out_.kind == LinkKind::modbus_rtu) {
      out_.unit = table_.whole("unit", 1, 247).value_or(out_.unit);
      return;
    }
    const auto unit = table_.whole("unit", 0, 255);
    if (!unit) return;
    out_.unit = *unit;
    if (*unit <= 247 || *unit == 255) return;
    table_.sink().fault(of_value(*table_.node("unit")),
                        "unit: " + std::to_string(*unit) + " is kept for later by the protocol",
                        "0 to 247, or 255 where there is no unit behind the address");
  }

  void read_registers() {
    table_.require("register",
                   "one [[instrument.register]] for each value, with place, value, address, type");
    table_.allow("register");
    const std::vector<const Node*> nodes = find_list_of_tables(*node_, "register", table_.sink());
    if (nodes.size() > kMostRegisters) {
      table_.sink().fault(of_key(*nodes[kMostRegisters]),
                          std::to_string(nodes.size()) + " registers in one instrument",
                          "at most " + std::to_string(kMostRegisters));
      return;
    }
    for (const Node* const node : nodes) {
      RegisterReader reader(*raw_, *node, "[[instrument.register]]", table_.sink());
      const std::optional<Register> one = reader.read();
      if (!one) continue;
      check_overlap(*one, *node);
      out_.registers.push_back(*one);
      registers_at_.push_back(of_value(*node));
    }
  }

  void check_overlap(const Register& one, const Node& node) {
    for (const Register& other : out_.registers) {
      const bool apart = other.table != one.table ||
                         other.address + words_of(other.type) <= one.address ||
                         one.address + words_of(one.type) <= other.address;
      if (apart) continue;
      table_.sink().fault(of_value(*node.find("address")),
                          "the registers of " + one.place + " and of " + other.place + " overlap",
                          "a 32-bit value takes its address and the next one");
      return;
    }
  }

  void read_times() {
    out_.every_s = read_time(table_, "every", kEvery).value_or(out_.every_s);
    out_.timeout_s = read_time(table_, "timeout", kTimeout).value_or(out_.timeout_s);
    const auto stale = read_time(table_, "stale", kStale);
    out_.stale_s = stale.value_or(std::max(out_.stale_s, 2.0 * out_.every_s));
    if (!stale || *stale >= out_.every_s) return;
    table_.sink().fault(of_value(*table_.node("stale")),
                        "stale is shorter than every: each value would be stale before the next",
                        "stale of some times every, as every = \"0.5 s\" and stale = \"3 s\"");
  }

  RawDeck* raw_;
  const Node* node_;
  TableReader table_;
  std::string link_;
  Instrument out_;
  std::vector<Position> registers_at_;
};

/// Places that an instrument gives.
std::vector<std::string> places_of(const Instrument& instrument) {
  if (!is_modbus(instrument.kind)) return {"indication"};
  std::vector<std::string> places;
  for (const Register& one : instrument.registers) places.push_back(one.place);
  return places;
}

}  // namespace

void read_instruments(const Node& root, RawDeck& raw, FaultSink& sink) {
  const std::vector<const Node*> nodes = find_list_of_tables(root, "instrument", sink);
  if (nodes.size() > kMostInstruments) {
    sink.fault(of_key(*nodes[kMostInstruments]), std::to_string(nodes.size()) + " instruments",
               "at most " + std::to_string(kMostInstruments));
    return;
  }
  std::vector<std::string> known;  // places that are read already
  for (const Node* const node : nodes) {
    InstrumentReader reader(raw, *node, sink);
    const std::optional<Instrument> instrument = reader.read();
    if (!instrument) continue;
    const std::vector<std::string> places = places_of(*instrument);
    for (std::size_t i = 0; i < places.size(); ++i) {
      const bool twice = std::find(known.begin(), known.end(), places[i]) != known.end();
      known.push_back(places[i]);
      if (!twice) continue;
      sink.fault(i < reader.registers_at().size() ? reader.registers_at()[i] : reader.at(),
                 places[i] + " is read twice", "each place from one register of one instrument");
    }
    raw.deck.instruments.push_back(*instrument);
  }
}

}  // namespace weighwright::deck::reading
