#include "report/drawable.h"

namespace weighwright::report {
namespace {

constexpr std::string_view kReplacement = "\xEF\xBF\xBD";  // U+FFFD

/// Bytes of the UTF-8 sequence that begins at `at`; 0 where none is well formed (RFC 3629).
std::size_t sequence_length(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = byte(at);
  if (first < 0x80) return 1;
  const std::size_t length = first >= 0xF0 && first <= 0xF4   ? 4
                             : first >= 0xE0 && first <= 0xEF ? 3
                             : first >= 0xC2 && first <= 0xDF ? 2
                                                              : 0;
  if (length == 0 || at + length > text.size()) return 0;
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(at + i) & 0xC0U) != 0x80U) return 0;
  }
  const unsigned char second = byte(at + 1);
  const bool overlong = (first == 0xE0 && second < 0xA0) || (first == 0xF0 && second < 0x90);
  const bool beyond = (first == 0xED && second > 0x9F) || (first == 0xF4 && second > 0x8F);
  return overlong || beyond ? 0 : length;
}

/// Of a well-formed sequence.
char32_t code_point(std::string_view sequence) {
  constexpr unsigned kLead[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
  char32_t code = static_cast<unsigned char>(sequence[0]) & kLead[sequence.size()];
  for (const char c : sequence.substr(1)) code = (code << 6U) | (static_cast<unsigned>(c) & 0x3FU);
  return code;
}

bool stands_for_something(char32_t code) {
  if (code == U'\n' || code == U'\t') return true;
  const bool control = code < 0x20 || (code >= 0x7F && code <= 0x9F);
  const bool nothing = (code >= 0xFDD0 && code <= 0xFDEF) || (code & 0xFFFEU) == 0xFFFEU;
  return !control && !nothing;
}

}  // namespace

std::string drawable(std::string_view text) {
  std::string safe;
  safe.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    if (text[at] == '\r') {
      safe += '\n';
      at += at + 1 < text.size() && text[at + 1] == '\n' ? 2 : 1;
      continue;
    }
    const std::size_t length = sequence_length(text, at);
    const std::string_view sequence = text.substr(at, length);
    const bool sound = length > 0 && stands_for_something(code_point(sequence));
    safe += sound ? sequence : kReplacement;
    at += length > 0 ? length : 1;
  }
  return safe;
}

std::size_t character_start(std::string_view text, std::size_t at) {
  while (at > 0 && at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80U)
    --at;
  return at;
}

}  // namespace weighwright::report
