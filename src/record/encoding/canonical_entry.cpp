#include <charconv>
#include <cstring>

#include "record/encoding/entry_reader.h"
#include "record/encoding/instant.h"

namespace weighwright::record {
namespace {

constexpr std::string_view kSimpleEscapes = "\"\\/bfnrt";
constexpr std::string_view kSimpleMeanings = "\"\\/\b\f\n\r\t";

/// Walks over the text; after the first thing that does not fit, nothing fits any more.
class Cursor {
 public:
  explicit Cursor(std::string_view text) : at_(text.data()), end_(text.data() + text.size()) {}

  [[nodiscard]] bool fits() const { return fits_; }
  [[nodiscard]] bool at_end() const { return at_ == end_; }

  bool peek(char letter) const { return fits_ && at_ != end_ && *at_ == letter; }

  void expect(std::string_view literal) {
    const auto left = static_cast<std::size_t>(end_ - at_);
    if (!fits_ || left < literal.size() || std::memcmp(at_, literal.data(), literal.size()) != 0) {
      fits_ = false;
      return;
    }
    at_ += literal.size();
  }

  void whole(std::int64_t& value) {
    if (!fits_) return;
    const auto [next, error] = std::from_chars(at_, end_, value);
    // "-0" and "007" are not what a printer writes.
    const char* const digits = at_ != end_ && *at_ == '-' ? at_ + 1 : at_;
    const bool padded = next - digits > 1 && *digits == '0';
    if (error != std::errc{} || padded || (digits != at_ && *digits == '0')) {
      fits_ = false;
      return;
    }
    at_ = next;
  }

  /// What stands up to the closing quotation mark, which is passed.
  void text(std::string& value) {
    while (fits_) {
      const char* const start = at_;
      while (at_ != end_ && *at_ != '"' && *at_ != '\\' &&
             static_cast<unsigned char>(*at_) >= 0x20) {
        ++at_;
      }
      value.append(start, at_);
      if (at_ == end_ || static_cast<unsigned char>(*at_) < 0x20) {
        fits_ = false;
        return;
      }
      if (*at_++ == '"') return;
      escape(value);
    }
  }

 private:
  void escape(std::string& value) {
    const std::size_t which = at_ == end_ ? std::string_view::npos : kSimpleEscapes.find(*at_);
    if (which != std::string_view::npos) {
      value.push_back(kSimpleMeanings[which]);
      ++at_;
      return;
    }
    // Control characters as print_content writes them; all others are the general reader's.
    constexpr std::string_view kControl = "u00";
    expect(kControl);
    unsigned code = 0;
    if (!fits_ || end_ - at_ < 2) {
      fits_ = false;
      return;
    }
    const auto [next, error] = std::from_chars(at_, at_ + 2, code, 16);
    if (error != std::errc{} || next != at_ + 2 || code >= 0x20) {
      fits_ = false;
      return;
    }
    at_ = next;
    value.push_back(static_cast<char>(code));
  }

  const char* at_;
  const char* end_;
  bool fits_ = true;
};

void read_seen(Cursor& cursor, std::vector<Head>& seen) {
  cursor.expect("[");
  while (cursor.peek('[')) {
    Head& head = seen.emplace_back();
    cursor.expect("[\"");
    cursor.text(head.device);
    cursor.expect(",");
    cursor.whole(head.sequence);
    cursor.expect(",\"");
    cursor.text(head.hash);
    cursor.expect("]");
    if (!cursor.peek(',')) break;
    cursor.expect(",");
    if (!cursor.peek('[')) cursor.expect("[");
  }
  cursor.expect("]");
}

void read_fields(Cursor& cursor, Fields& fields) {
  cursor.expect("{");
  while (cursor.peek('"')) {
    auto& [name, value] = fields.emplace_back();
    cursor.expect("\"");
    cursor.text(name);
    cursor.expect(":\"");
    cursor.text(value);
    if (!cursor.peek(',')) break;
    cursor.expect(",");
    if (!cursor.peek('"')) cursor.expect("\"");
  }
  cursor.expect("}");
}

}  // namespace

std::optional<Entry> read_canonical(std::string_view content) {
  std::optional<Entry> entry(std::in_place);
  Cursor cursor(content);
  std::string time;
  std::int64_t offset_min = 0;
  cursor.expect(R"({"format":)");
  const bool is_signed = cursor.peek('2');
  cursor.expect(is_signed ? R"(2,"device":")" : R"(1,"device":")");
  cursor.text(entry->stamp.device);
  if (is_signed) {
    cursor.expect(R"(,"key":")");
    cursor.text(entry->key);
    if (entry->key.empty()) return std::nullopt;
  }
  cursor.expect(R"(,"sequence":)");
  cursor.whole(entry->stamp.sequence);
  cursor.expect(R"(,"lamport":)");
  cursor.whole(entry->stamp.lamport);
  cursor.expect(R"(,"time":")");
  cursor.text(time);
  cursor.expect(R"(,"offset_min":)");
  cursor.whole(offset_min);
  cursor.expect(R"(,"author":")");
  cursor.text(entry->stamp.author);
  cursor.expect(R"(,"seen":)");
  read_seen(cursor, entry->seen);
  cursor.expect(R"(,"kind":")");
  cursor.text(entry->what.kind);
  cursor.expect(R"(,"fields":)");
  read_fields(cursor, entry->what.fields);
  if (cursor.peek(',')) {
    cursor.expect(R"(,"corrects":")");
    cursor.text(entry->what.corrects);
    if (entry->what.corrects.empty()) return std::nullopt;
  }
  cursor.expect("}");
  if (entry->what.fields.size() > kMostFields) return std::nullopt;
  const std::optional<std::int64_t> time_ms = parse_instant(time);
  if (!cursor.fits() || !cursor.at_end() || !time_ms) return std::nullopt;
  if (offset_min < -kLargestOffset_min || offset_min > kLargestOffset_min) return std::nullopt;
  entry->stamp.time_ms = *time_ms;
  entry->stamp.offset_min = static_cast<int>(offset_min);
  return entry;
}

}  // namespace weighwright::record
