#include "report/exchange/dcc_text.h"

#include <cctype>
#include <chrono>
#include <cstddef>
#include <string_view>

#include "units/quantity.h"

namespace weighwright::report {
namespace {

constexpr std::string_view kReplacement = "\xEF\xBF\xBD";

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

}  // namespace

std::string clean(const std::string& text) {
  std::string safe;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t length = sequence_length(text, at);
    const auto byte = static_cast<unsigned char>(text[at]);
    if (length == 0) {
      safe += kReplacement;
      ++at;
      continue;
    }
    if (length == 1 && (byte < 0x20 || byte == 0x7F)) {
      safe += ' ';
    } else {
      safe += text.substr(at, length);
    }
    at += length;
  }
  const std::size_t begin = safe.find_first_not_of(' ');
  if (begin == std::string::npos) return "";
  return safe.substr(begin, safe.find_last_not_of(' ') - begin + 1);
}

std::string plain(double value) {
  constexpr int kDecimals = 6;
  std::string text = units::print_fixed(value, kDecimals);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

pugi::xml_node add_plain(pugi::xml_node parent, const char* name, const std::string& text) {
  pugi::xml_node node = parent.append_child(name);
  node.text().set(clean(text).c_str());
  return node;
}

pugi::xml_node add_text(pugi::xml_node parent,
                        const char* name,
                        const std::string& text,
                        const std::string& language) {
  pugi::xml_node node = parent.append_child(name);
  add_plain(node, "dcc:content", text).append_attribute("lang").set_value(language.c_str());
  return node;
}

bool is_date(const std::string& text) {
  constexpr std::string_view kPattern = "dddd-dd-dd";
  if (text.size() != kPattern.size()) return false;
  for (std::size_t i = 0; i < kPattern.size(); ++i) {
    const bool digit = std::isdigit(static_cast<unsigned char>(text[i])) != 0;
    if (kPattern[i] == 'd' ? !digit : text[i] != '-') return false;
  }
  const auto number = [&text](std::size_t at, std::size_t digits) {
    return std::stoi(text.substr(at, digits));
  };
  return std::chrono::year_month_day(std::chrono::year(number(0, 4)),
                                     std::chrono::month(static_cast<unsigned>(number(5, 2))),
                                     std::chrono::day(static_cast<unsigned>(number(8, 2))))
      .ok();
}

}  // namespace weighwright::report
