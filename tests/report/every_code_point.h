#pragma once
/// All that UTF-8 can hold, for tests of what is drawn and stored.

#include <string>

namespace weighwright::report {

/// RFC 3629, 3: the bits of a code point in one to four bytes.
inline std::string encoded(char32_t code) {
  const auto tail = [code](unsigned shift) {
    return static_cast<char>(0x80U | ((code >> shift) & 0x3FU));
  };
  if (code < 0x80) return {static_cast<char>(code)};
  if (code < 0x800) return {static_cast<char>(0xC0U | (code >> 6U)), tail(0)};
  if (code < 0x10000) return {static_cast<char>(0xE0U | (code >> 12U)), tail(6), tail(0)};
  return {static_cast<char>(0xF0U | (code >> 18U)), tail(12), tail(6), tail(0)};
}

/// U+0000 to U+10FFFF without the surrogates.
inline std::string every_code_point() {
  std::string text;
  for (char32_t code = 0; code <= 0x10FFFF; ++code) {
    if (code < 0xD800 || code > 0xDFFF) text += encoded(code);
  }
  return text;
}

}  // namespace weighwright::report
