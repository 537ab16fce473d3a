#include <cmath>
#include <cstdint>
#include <vector>

#include "fuzz/entry.h"
#include "link/modbus_answer.h"
#include "link/register_value.h"
#include "units/diagnostic.h"

namespace weighwright::fuzz {

namespace {

using link::ModbusAnswer;

/// Every value that could lie in these registers is finite, or says what is wrong with it.
void read_values(const std::vector<std::uint16_t>& words, unsigned choice) {
  deck::Register place;
  place.type = static_cast<deck::RegisterType>(choice % 5);
  place.word_order = static_cast<deck::Order>((choice >> 3U) & 1U);
  place.byte_order = static_cast<deck::Order>((choice >> 4U) & 1U);
  place.scale = (choice & 0x20U) != 0 ? -0.001 : 1.0;
  const auto size = static_cast<std::size_t>(deck::words_of(place.type));
  for (std::size_t i = 0; i + size <= words.size(); i += size) {
    const std::vector<std::uint16_t> raw(words.begin() + static_cast<std::ptrdiff_t>(i),
                                         words.begin() + static_cast<std::ptrdiff_t>(i + size));
    const link::RegisterValue value = link::read_registers(place, raw);
    hold(value.value.has_value() == value.says.empty());
    if (!value.value) continue;
    hold(std::isfinite(*value.value) && !value.typed.empty());
    const link::RegisterValue again =
        link::read_registers(place, link::print_registers(place, value.value));
    hold(again.value == value.value);
  }
}

}  // namespace

/// Four bytes of question, then an answer as it comes over the wire.
void read_modbus_value(std::string_view bytes) {
  if (bytes.size() < 4) return;
  const auto at = [&](std::size_t i) { return static_cast<std::uint8_t>(bytes[i]); };
  const link::ModbusQuestion question{at(0) % 248, 3 + at(1) % 2, 0, 1 + at(2) % 125, at(3)};
  std::vector<std::uint8_t> frame;
  for (std::size_t i = 4; i < bytes.size(); ++i) frame.push_back(at(i));
  for (const ModbusAnswer& answer :
       {link::read_tcp_answer(question, frame), link::read_serial_answer(question, frame)}) {
    const bool registers = answer.kind == ModbusAnswer::Kind::registers;
    hold(registers == answer.says.empty() && units::is_utf8(answer.says));
    hold(answer.registers.size() == (registers ? static_cast<std::size_t>(question.count) : 0U));
    read_values(answer.registers, at(3));
  }
}

}  // namespace weighwright::fuzz

WEIGHWRIGHT_FUZZ_TARGET(weighwright::fuzz::read_modbus_value)
