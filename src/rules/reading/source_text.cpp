#include "rules/reading/source_text.h"

#include <cstddef>
#include <string>
#include <utility>

namespace weighwright::rules::reading {

namespace {

constexpr std::size_t kLargestFile_bytes = 1'000'000;

bool continues_character(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

/// Bytes of the character at `i`.
std::string_view character_at(std::string_view text, std::size_t i) {
  std::size_t length = 1;
  while (i + length < text.size() && continues_character(text[i + length])) ++length;
  return text.substr(i, length);
}

units::Diagnostic whole_file(std::string what, std::string expected) {
  return {"", 0, 0, std::move(what), std::move(expected)};
}

/// Walks through one line, knowing only where quotation marks and comments begin and end.
std::optional<units::Diagnostic> find_in_line(std::string_view line, int number) {
  int column = 0;
  char open = '\0';
  for (std::size_t i = 0; i < line.size(); i += character_at(line, i).size()) {
    const std::string_view sign = character_at(line, i);
    const char c = sign.front();
    ++column;
    if (open != '\0') {
      if (open == '"' && c == '\\') {
        i += sign.size();
        ++column;
        if (i >= line.size()) break;
      } else if (c == open) {
        open = '\0';
      }
      continue;
    }
    if (c == '#') return std::nullopt;
    const std::string_view three = line.substr(i, 3);
    if (three == "\"\"\"" || three == "'''") {
      return units::Diagnostic{"", number, column, "a text over several lines begins here",
                               "write every text on one line"};
    }
    if (c == '"' || c == '\'') open = c;
    if (sign.size() == 1) continue;
    return units::Diagnostic{
        "", number, column, "the sign " + units::quote(sign) + " stands outside quotation marks",
        R"(texts and masses stand in straight quotation marks: least = "5 t")"};
  }
  return std::nullopt;
}

}  // namespace

std::optional<units::Diagnostic> find_unfit(std::string_view text) {
  if (text.size() > kLargestFile_bytes)
    return whole_file("the file is larger than 1 MB", "a rulebook has some hundred lines");
  if (text.find('\0') != std::string_view::npos)
    return whole_file("this is no text file: it contains zero bytes", "text in UTF-8");
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  if (text.find_first_not_of(" \t\r\n") == std::string_view::npos)
    return whole_file("the file is empty", "a rulebook begins with format = 1");
  int number = 0;
  while (!text.empty()) {
    ++number;
    const std::size_t end = text.find('\n');
    const std::string_view line = text.substr(0, end);
    if (!units::is_utf8(line)) {
      return units::Diagnostic{"", number, 0, "a sign on this line is not in UTF-8",
                               "save the file as UTF-8"};
    }
    if (auto found = find_in_line(line, number)) return found;
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return std::nullopt;
}

}  // namespace weighwright::rules::reading
