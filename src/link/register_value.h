#pragma once
/// Raw registers of 16 bits to the value that they hold, and back.
///
/// Source: Modbus Application Protocol V1.1b3 (registers of 16 bits, high byte first); values of 32
/// bits and floating point are not defined there, so that word and byte order are the deck file's.
/// Floating point: IEEE 754 binary32. Pure.

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "deck/instrument.h"

namespace weighwright::link {

struct RegisterValue {
  std::optional<double> value;  // raw * scale, in the unit of the register
  std::string typed;            // with the digits that it has
  std::string says;             // no value: why
  /// What it would be with the two words exchanged; of two registers only, and only if that is a
  /// number.
  std::optional<double> exchanged;
};

/// What one of the last digit is worth: step, else scale for whole numbers, else 0 (unknown).
[[nodiscard]] double resolution_of(const deck::Register& place);

/// @param words  words_of(place.type) registers as they came, high byte first in each
/// No value: not a number, infinite, below the least normal number of its type (nothing measures
/// that finely: two words exchanged look so), a whole number that stands at the end of its range.
[[nodiscard]] RegisterValue read_registers(const deck::Register& place,
                                           std::span<const std::uint16_t> words);

/// The registers that show a value, rounded to a raw number; what does not fit: the end of the
/// range. Empty value: what an instrument shows that has none (end of the range, not a number).
[[nodiscard]] std::vector<std::uint16_t> print_registers(const deck::Register& place,
                                                         std::optional<double> value);

/// A value as text with as many decimals as the resolution needs; 0: seven significant digits.
[[nodiscard]] std::string print_typed(double value, double resolution);

}  // namespace weighwright::link
