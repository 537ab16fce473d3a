#include "link/modbus_answer.h"

#include <cstddef>

namespace weighwright::link {

namespace {

constexpr std::size_t kTcpHeader = 6;  // before the unit
constexpr std::size_t kCrc = 2;
constexpr std::uint8_t kExceptionBit = 0x80;

std::uint8_t high(int value) {
  return static_cast<std::uint8_t>((static_cast<unsigned>(value) >> 8U) & 0xFFU);
}
std::uint8_t low(int value) {
  return static_cast<std::uint8_t>(static_cast<unsigned>(value) & 0xFFU);
}
int word(std::span<const std::uint8_t> bytes, std::size_t at) {
  return (bytes[at] << 8) | bytes[at + 1];
}

ModbusAnswer wrong(std::string says) {
  return {ModbusAnswer::Kind::wrong, {}, 0, std::move(says)};
}

/// From the unit on, without CRC.
ModbusAnswer read_unit_and_data(const ModbusQuestion& question,
                                std::span<const std::uint8_t> bytes) {
  if (bytes.size() < 3) return wrong("an answer was cut off");
  if (bytes[0] != question.unit) {
    return wrong("unit " + std::to_string(bytes[0]) + " answered, and unit " +
                 std::to_string(question.unit) + " was asked");
  }
  if (bytes[1] == (question.function | kExceptionBit)) {
    return {ModbusAnswer::Kind::exception, {}, bytes[2], exception_words(bytes[2])};
  }
  if (bytes[1] != question.function) {
    return wrong("function " + std::to_string(bytes[1]) + " was answered, and function " +
                 std::to_string(question.function) + " was asked");
  }
  const auto wanted = 2 * static_cast<std::size_t>(question.count);
  if (bytes[2] != wanted || bytes.size() != wanted + 3) {
    return wrong("an answer has " + std::to_string(bytes[2]) + " bytes of registers, and " +
                 std::to_string(wanted) + " were asked");
  }
  ModbusAnswer answer{ModbusAnswer::Kind::registers, {}, 0, {}};
  for (std::size_t i = 3; i < bytes.size(); i += 2) {
    answer.registers.push_back(static_cast<std::uint16_t>(word(bytes, i)));
  }
  return answer;
}

}  // namespace

std::vector<std::uint8_t> print_question(const ModbusQuestion& question) {
  return {low(question.unit),    low(question.function), high(question.address),
          low(question.address), high(question.count),   low(question.count)};
}

std::vector<std::uint8_t> print_tcp_question(const ModbusQuestion& question) {
  const std::vector<std::uint8_t> data = print_question(question);
  std::vector<std::uint8_t> frame;
  frame.reserve(kTcpHeader + data.size());
  for (const std::uint8_t byte :
       {high(question.transaction), low(question.transaction), std::uint8_t{0}, std::uint8_t{0},
        std::uint8_t{0}, low(static_cast<int>(data.size()))}) {
    frame.push_back(byte);
  }
  for (const std::uint8_t byte : data) frame.push_back(byte);
  return frame;
}

ModbusAnswer read_serial_answer(const ModbusQuestion& question,
                                std::span<const std::uint8_t> frame) {
  if (frame.size() < kCrc) return wrong("an answer was cut off");
  return read_unit_and_data(question, frame.first(frame.size() - kCrc));
}

ModbusAnswer read_tcp_answer(const ModbusQuestion& question, std::span<const std::uint8_t> frame) {
  if (frame.size() < kTcpHeader) return wrong("an answer was cut off");
  if (word(frame, 2) != 0) return wrong("what answers there does not speak Modbus");
  const auto length = static_cast<std::size_t>(word(frame, 4));
  if (frame.size() != kTcpHeader + length) {
    return wrong("an answer says that it is " + std::to_string(length) + " bytes long, and has " +
                 std::to_string(frame.size() - kTcpHeader));
  }
  if (word(frame, 0) != question.transaction) {
    return {ModbusAnswer::Kind::other_question,
            {},
            0,
            "it answers questions that were not asked (transaction " +
                std::to_string(word(frame, 0)) + " instead of " +
                std::to_string(question.transaction) + ")"};
  }
  return read_unit_and_data(question, frame.subspan(kTcpHeader));
}

std::string exception_words(int code) {
  const std::string number = "exception " + std::to_string(code) + ": ";
  switch (code) {
    case 1:
      return number + "it does not know this function; try the other table (holding, input)";
    case 2:
      return number + "it has no such register; addresses count from 0, see its manual";
    case 3:
      return number + "it does not give so many registers at once";
    case 4:
      return number + "it failed while it looked for the value";
    case 5:
      return number + "it needs more time";
    case 6:
      return number + "it is busy";
    case 8:
      return number + "its memory is damaged";
    case 10:
      return number + "the gateway has no way to this unit";
    case 11:
      return number + "the unit behind the gateway does not answer";
    default:
      break;
  }
  return number + "it refuses, and the standard does not say why";
}

}  // namespace weighwright::link
