#include "record/encoding/entry_text.h"

#include <algorithm>
#include <cstdint>
#include <cstring>

#include "record/encoding/entry_reader.h"
#include "record/encoding/instant.h"
#include "units/diagnostic.h"

namespace weighwright::record {
namespace {

constexpr std::size_t kDeviceDigits = 16;
constexpr std::size_t kHashDigits = 64;

bool is_hex(std::string_view text) {
  return std::ranges::all_of(
      text, [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); });
}

/// A JSON string (RFC 8259, section 7): only what must be escaped is.
void put_text(std::string& out, std::string_view text) {
  constexpr std::string_view kDigits = "0123456789abcdef";
  out += '"';
  for (const char letter : text) {
    const auto code = static_cast<unsigned char>(letter);
    if (letter == '"' || letter == '\\') {
      out += '\\';
      out += letter;
    } else if (letter == '\n') {
      out += "\\n";
    } else if (code < 0x20) {
      out += "\\u00";
      out += kDigits[code >> 4U];
      out += kDigits[code & 0xFU];
    } else {
      out += letter;
    }
  }
  out += '"';
}

void put_seen(std::string& out, const std::vector<Head>& seen) {
  out += '[';
  for (std::size_t i = 0; i < seen.size(); ++i) {
    out += i == 0 ? "[" : ",[";
    put_text(out, seen[i].device);
    out += "," + std::to_string(seen[i].sequence) + ",";
    put_text(out, seen[i].hash);
    out += ']';
  }
  out += ']';
}

void put_fields(std::string& out, const Fields& fields) {
  out += '{';
  for (std::size_t i = 0; i < fields.size(); ++i) {
    if (i > 0) out += ',';
    put_text(out, fields[i].first);
    out += ':';
    put_text(out, fields[i].second);
  }
  out += '}';
}

/// Eight bytes at a time: nearly all that is ever recorded.
bool is_ascii(std::string_view text) {
  constexpr std::uint64_t kHighBits = 0x8080808080808080U;
  std::uint64_t all = 0;
  while (text.size() >= sizeof all) {
    std::uint64_t bytes = 0;
    std::memcpy(&bytes, text.data(), sizeof bytes);
    all |= bytes;
    text.remove_prefix(sizeof bytes);
  }
  for (const char letter : text) all |= static_cast<unsigned char>(letter);
  return (all & kHighBits) == 0;
}

bool whole_fits(std::int64_t value) {
  return value >= 1 && value <= kLargestWhole;
}

bool has_doubled_field(const Fields& fields) {
  if (fields.size() < 2) return false;
  if (fields.size() == 2) return fields[0].first == fields[1].first;
  std::vector<std::string_view> names;
  names.reserve(fields.size());
  for (const auto& [name, value] : fields) names.emplace_back(name);
  std::ranges::sort(names);
  return std::ranges::adjacent_find(names) != names.end();
}

}  // namespace

bool is_device(std::string_view text) {
  return text.size() == kDeviceDigits && is_hex(text);
}

bool is_hash(std::string_view text) {
  return text.size() == kHashDigits && is_hex(text);
}

std::string fault_of(const Entry& entry) {
  if (!is_device(entry.stamp.device)) return "\"device\" is not 16 lower-case hex digits";
  if (!entry.key.empty() && !is_hash(entry.key)) return "\"key\" is not 64 lower-case hex digits";
  if (!whole_fits(entry.stamp.sequence)) return "\"sequence\" is no whole number from 1";
  if (!whole_fits(entry.stamp.lamport)) return "\"lamport\" is no whole number from 1";
  if (entry.what.kind.empty()) return "\"kind\" is empty";
  for (const Head& head : entry.seen) {
    if (!is_device(head.device) || !whole_fits(head.sequence) || !is_hash(head.hash)) {
      return "\"seen\" holds something that is no head of a chain";
    }
  }
  if (has_doubled_field(entry.what.fields)) return "a field is given twice";
  if (!entry.what.corrects.empty() && !is_hash(entry.what.corrects)) {
    return "\"corrects\" is no hash of 64 hex digits";
  }
  return {};
}

std::string print_content(const Entry& entry) {
  std::string out = entry.key.empty() ? R"({"format":1,"device":)" : R"({"format":2,"device":)";
  put_text(out, entry.stamp.device);
  if (!entry.key.empty()) {
    out += R"(,"key":)";
    put_text(out, entry.key);
  }
  out += R"(,"sequence":)" + std::to_string(entry.stamp.sequence);
  out += R"(,"lamport":)" + std::to_string(entry.stamp.lamport);
  out += R"(,"time":)";
  put_text(out, print_instant(entry.stamp.time_ms));
  out += R"(,"offset_min":)" + std::to_string(entry.stamp.offset_min);
  out += R"(,"author":)";
  put_text(out, entry.stamp.author);
  out += R"(,"seen":)";
  put_seen(out, entry.seen);
  out += R"(,"kind":)";
  put_text(out, entry.what.kind);
  out += R"(,"fields":)";
  put_fields(out, entry.what.fields);
  if (!entry.what.corrects.empty()) {
    out += R"(,"corrects":)";
    put_text(out, entry.what.corrects);
  }
  return out + "}";
}

ParsedContent parse_content(std::string_view content) {
  if (!is_ascii(content) && !units::is_utf8(content))
    return {.entry = std::nullopt, .fault = "it is no UTF-8 text"};
  ParsedContent parsed{.entry = read_canonical(content), .fault = {}};
  if (!parsed.entry) parsed = read_general(content);
  if (!parsed.entry) return parsed;
  parsed.fault = fault_of(*parsed.entry);
  if (!parsed.fault.empty()) parsed.entry.reset();
  return parsed;
}

}  // namespace weighwright::record
