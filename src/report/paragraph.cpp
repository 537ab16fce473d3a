#include "report/paragraph.h"

#include <algorithm>

namespace weighwright::report {

int columns_of(std::string_view text) {
  // A continuation byte of UTF-8 is 10xxxxxx.
  const auto starts = std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  });
  return static_cast<int>(starts);
}

std::string pad_right(std::string_view text, int width) {
  std::string padded(text);
  padded.append(static_cast<std::size_t>(std::max(0, width - columns_of(text))), ' ');
  return padded;
}

std::string centre(std::string_view text, int width) {
  const int before = std::max(0, (width - columns_of(text)) / 2);
  return pad_right(std::string(static_cast<std::size_t>(before), ' ') + std::string(text), width);
}

namespace {

std::string wrap_line(std::string_view text,
                      int width,
                      std::string_view first,
                      std::string_view hanging) {
  std::string done;
  std::string line(first);
  bool empty = true;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t begin = text.find_first_not_of(' ', at);
    if (begin == std::string_view::npos) break;
    const std::size_t end = std::min(text.find(' ', begin), text.size());
    const std::string_view word = text.substr(begin, end - begin);
    if (!empty && columns_of(line) + 1 + columns_of(word) > width) {
      done += line + '\n';
      line = hanging;
      empty = true;
    }
    if (!empty) line += ' ';
    line += word;
    empty = false;
    at = end;
  }
  return done + line + '\n';
}

}  // namespace

std::string wrap(std::string_view text,
                 int width,
                 std::string_view first,
                 std::string_view hanging) {
  std::string lines;
  std::string_view before = first;
  for (std::size_t at = 0; at <= text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    lines += wrap_line(text.substr(at, end - at), width, before, hanging);
    before = hanging;
    at = end + 1;
  }
  return lines;
}

}  // namespace weighwright::report
