#include "toml/shape.h"

#include <algorithm>
#include <string>

namespace weighwright::toml_text {
namespace {

std::size_t characters_in(std::string_view bytes) {
  return static_cast<std::size_t>(std::ranges::count_if(
      bytes, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

bool is_header(std::string_view line) {
  const std::size_t first = line.find_first_not_of(" \t");
  return first != std::string_view::npos && line[first] == '[';
}

/// Walks line by line, knowing only where quotation marks and comments begin and end.
class Walk {
 public:
  std::optional<units::Diagnostic> run(std::string_view text) {
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    while (!text.empty() && !found_) {
      ++number_;
      const std::size_t end = text.find('\n');
      line(text.substr(0, end));
      text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    }
    return found_;
  }

 private:
  void line(std::string_view line) {
    // Within a list that goes on over lines a bracket begins no table.
    if (brackets_ == 0 && is_header(line) && ++tables_ > kMostTables) {
      return tell(0, "there are more than " + std::to_string(kMostTables) + " tables",
                  "at most that many [tables] in one file");
    }
    signs(line);
    if (!found_ && line.size() > kLongestLine_bytes) {
      tell(0, "the line has " + std::to_string(line.size()) + " bytes",
           "lines of at most " + std::to_string(kLongestLine_bytes) +
               " bytes; a list may go on over several lines");
    }
  }

  void signs(std::string_view line) {
    parts_ = 1;
    for (std::size_t i = 0; i < line.size() && !found_; ++i) {
      if (line[i] == '#') return;
      if (line[i] == '"' || line[i] == '\'') {
        i = end_of_text(line, i);
      } else {
        sign(line, i);
      }
    }
  }

  /// Where the text that begins at `i` ends.
  static std::size_t end_of_text(std::string_view line, std::size_t i) {
    const char mark = line[i];
    for (++i; i < line.size() && line[i] != mark; ++i) {
      if (mark == '"' && line[i] == '\\') ++i;
    }
    return i;
  }

  void sign(std::string_view line, std::size_t i) {
    switch (line[i]) {
      case '.':
        if (++parts_ > kMostKeyParts) {
          tell(column(line, i),
               "a key has more than " + std::to_string(kMostKeyParts) + " parts joined by points",
               R"(a key of one word, as length = "7 m", or a table as [stand.2L])");
        }
        return;
      case '[':
      case '{':
        parts_ = 1;
        if (++brackets_ > kMostBrackets) {
          tell(column(line, i),
               "brackets lie within one another more than " + std::to_string(kMostBrackets) +
                   " deep",
               "no such depth of brackets: lists of values, or of lists");
        }
        return;
      case ']':
      case '}':
        parts_ = 1;
        if (brackets_ > 0) --brackets_;
        return;
      case '=':
      case ',':
        parts_ = 1;
        return;
      default:
        return;
    }
  }

  static int column(std::string_view line, std::size_t i) {
    return static_cast<int>(characters_in(line.substr(0, i))) + 1;
  }

  void tell(int column, std::string what, std::string expected) {
    found_ = units::Diagnostic{.file = {},
                               .line = number_,
                               .column = column,
                               .what = std::move(what),
                               .expected = std::move(expected)};
  }

  std::optional<units::Diagnostic> found_;
  int number_ = 0;
  std::size_t tables_ = 0;
  std::size_t parts_ = 1;
  std::size_t brackets_ = 0;
};

}  // namespace

std::optional<units::Diagnostic> find_excess(std::string_view text) {
  return Walk().run(text);
}

}  // namespace weighwright::toml_text
