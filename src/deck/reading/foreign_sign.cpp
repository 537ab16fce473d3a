#include "deck/reading/foreign_sign.h"

#include <array>
#include <cstddef>

#include "units/diagnostic.h"

namespace weighwright::deck::reading {

namespace {

constexpr std::string_view kStraight =
    R"(write the straight quotation mark " around texts and quantities)";
constexpr std::string_view kQuoted =
    R"(texts and quantities stand in quotation marks: length = "7 m")";

bool is_ascii(char c) {
  return static_cast<unsigned char>(c) < 0x80;
}
bool continues_character(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

bool is_typographic_quote(std::string_view sign) {
  static constexpr std::array<std::string_view, 6> kMarks = {"\xE2\x80\x9C", "\xE2\x80\x9D",
                                                             "\xE2\x80\x9E", "\xE2\x80\x98",
                                                             "\xE2\x80\x99", "\xE2\x80\xB3"};
  for (const std::string_view mark : kMarks) {
    if (sign == mark) return true;
  }
  return false;
}

/// Walks through the text, knowing only where quotation marks and comments begin and end.
class Walk {
 public:
  explicit Walk(std::string_view text) : text_(text) {
    if (text_.starts_with("\xEF\xBB\xBF")) i_ = 3;
  }

  std::optional<ForeignSign> find() {
    for (; i_ < text_.size(); step()) {
      if (text_[i_] == '\n') {
        state_ = State::outside;
      } else if (auto found = visit()) {
        return found;
      }
    }
    return std::nullopt;
  }

 private:
  enum class State { outside, comment, basic, literal };

  void step() {
    const bool new_line = text_[i_] == '\n';
    ++i_;
    while (i_ < text_.size() && continues_character(text_[i_])) ++i_;
    at_ = new_line ? Position{at_.line + 1, 1} : Position{at_.line, at_.column + 1};
  }

  std::optional<ForeignSign> visit() {
    const char c = text_[i_];
    switch (state_) {
      case State::comment:
        return std::nullopt;
      case State::literal:
        if (c == '\'') state_ = State::outside;
        return std::nullopt;
      case State::basic:
        if (c == '\\' && i_ + 1 < text_.size() && text_[i_ + 1] != '\n') step();
        if (c == '"') state_ = State::outside;
        return std::nullopt;
      case State::outside:
        break;
    }
    return visit_outside(c);
  }

  std::optional<ForeignSign> visit_outside(char c) {
    if (c == '#') state_ = State::comment;
    if (c == '"' || c == '\'') {
      const std::string_view three = text_.substr(i_, 3);
      if (three == "\"\"\"" || three == "'''") {
        return ForeignSign{at_, "a text over several lines begins here",
                           "write every text on one line, in single quotation marks"};
      }
      state_ = c == '"' ? State::basic : State::literal;
    }
    if (is_ascii(c)) return std::nullopt;
    std::size_t length = 1;
    while (i_ + length < text_.size() && continues_character(text_[i_ + length])) ++length;
    const std::string_view sign = text_.substr(i_, length);
    return ForeignSign{at_, "the sign " + units::quote(sign) + " stands outside quotation marks",
                       std::string(is_typographic_quote(sign) ? kStraight : kQuoted)};
  }

  std::string_view text_;
  std::size_t i_ = 0;
  Position at_{1, 1};
  State state_ = State::outside;
};

/// The line on which the text ceases to be UTF-8.
ForeignSign no_utf8(std::string_view text) {
  int line = 1;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    if (!units::is_utf8(text.substr(0, end)) || end == std::string_view::npos) break;
    text.remove_prefix(end + 1);
    ++line;
  }
  return {{line, 0}, "a sign on this line is not in UTF-8", "save the file as UTF-8"};
}

}  // namespace

std::optional<ForeignSign> find_foreign_sign(std::string_view text) {
  if (!units::is_utf8(text)) return no_utf8(text);
  return Walk(text).find();
}

}  // namespace weighwright::deck::reading
