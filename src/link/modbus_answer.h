#pragma once
/// What a Modbus instrument answered: registers, an exception in words, or something that is no
/// answer to the question.
///
/// Source: Modbus Application Protocol V1.1b3 (functions 3 and 4, exceptions: clauses 6.3, 6.4, 7),
/// content read through library manuals; Modbus Messaging on TCP/IP (header of 7 bytes) from
/// memory. Pure; checks of serial frames (CRC) are libmodbus's.

#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace weighwright::link {

struct ModbusQuestion {
  int unit = 1;
  int function = 3;  // 3 holding, 4 input registers
  int address = 0;
  int count = 1;
  int transaction = 0;  // TCP only
};

struct ModbusAnswer {
  enum class Kind {
    registers,
    exception,       // the instrument says no; it is there
    other_question,  // TCP: an answer to an earlier question, which came too late
    wrong            // no answer to this question: out of step, or another instrument
  };
  Kind kind = Kind::wrong;
  std::vector<std::uint16_t> registers;
  int exception = 0;
  std::string says;
};

/// Protocol data unit with the unit before it: what goes over a serial line before the CRC.
[[nodiscard]] std::vector<std::uint8_t> print_question(const ModbusQuestion& question);
/// The whole frame for TCP.
[[nodiscard]] std::vector<std::uint8_t> print_tcp_question(const ModbusQuestion& question);

/// @param frame  serial: unit, function, ..., CRC (checked before, and left on)
[[nodiscard]] ModbusAnswer read_serial_answer(const ModbusQuestion& question,
                                              std::span<const std::uint8_t> frame);
[[nodiscard]] ModbusAnswer read_tcp_answer(const ModbusQuestion& question,
                                           std::span<const std::uint8_t> frame);

/// "exception 2: it has no such register ..."
[[nodiscard]] std::string exception_words(int code);

}  // namespace weighwright::link
