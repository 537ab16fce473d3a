#pragma once
/// Numbers as SQLite's files write them.

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace weighwright::journal {

/// Four bytes, most significant first; the caller has made sure that they are there.
[[nodiscard]] inline std::uint32_t big_endian_32(std::string_view bytes, std::size_t at) {
  std::uint32_t value = 0;
  for (std::size_t i = 0; i < 4; ++i) {
    value = (value << 8U) | static_cast<unsigned char>(bytes[at + i]);
  }
  return value;
}

}  // namespace weighwright::journal
