#include "units/diagnostic.h"

#include <cstddef>

namespace weighwright::units {

namespace {

constexpr std::size_t kLongestQuote = 40;

/// Length of the well-formed UTF-8 sequence at the start of `text`; 0 when there is none
/// (The Unicode Standard 15.0, table 3-7).
std::size_t utf8_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = byte(0);
  if (first < 0x80) return 1;
  const std::size_t length = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  if (first < 0xC2 || first > 0xF4 || text.size() < length) return 0;
  unsigned char low = 0x80;
  unsigned char high = 0xBF;
  if (first == 0xE0) low = 0xA0;
  if (first == 0xED) high = 0x9F;
  if (first == 0xF0) low = 0x90;
  if (first == 0xF4) high = 0x8F;
  if (byte(1) < low || byte(1) > high) return 0;
  for (std::size_t i = 2; i < length; ++i) {
    if (byte(i) < 0x80 || byte(i) > 0xBF) return 0;
  }
  return length;
}

}  // namespace

std::string print(const Diagnostic& diagnostic) {
  std::string text;
  if (!diagnostic.file.empty()) text += diagnostic.file + ":";
  if (diagnostic.line > 0) text += std::to_string(diagnostic.line) + ":";
  if (diagnostic.line > 0 && diagnostic.column > 0) text += std::to_string(diagnostic.column) + ":";
  if (!text.empty()) text += " ";
  text += diagnostic.what;
  if (!diagnostic.expected.empty()) text += "; " + diagnostic.expected;
  return text;
}

std::string quote(std::string_view text) {
  std::string quoted = "\"";
  std::size_t letters = 0;
  while (!text.empty()) {
    if (letters == kLongestQuote) {
      quoted += "...";
      break;
    }
    const std::size_t length = utf8_length(text);
    const auto first = static_cast<unsigned char>(text.front());
    if (length == 0 || first < 0x20 || first == 0x7F) {
      quoted += '?';
      text.remove_prefix(1);
    } else {
      quoted += text.substr(0, length);
      text.remove_prefix(length);
    }
    ++letters;
  }
  return quoted + "\"";
}

bool is_utf8(std::string_view text) {
  while (!text.empty()) {
    const std::size_t length = utf8_length(text);
    if (length == 0) return false;
    text.remove_prefix(length);
  }
  return true;
}

}  // namespace weighwright::units
