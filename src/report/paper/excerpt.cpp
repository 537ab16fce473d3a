#include "report/paper/excerpt.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/drawable.h"
#include "report/paragraph.h"

namespace weighwright::report {
namespace {

constexpr std::size_t kOfLineFeed = 40;

/// Bytes of the first characters that count `most` together; `text` is drawable.
std::size_t bytes_of(const std::string& text, std::size_t most) {
  std::size_t counted = 0;
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (character_start(text, at) != at) continue;
    counted += text[at] == '\n' ? kOfLineFeed : 1;
    if (counted > most) return at;
  }
  return text.size();
}

}  // namespace

std::string excerpt(const std::string& text, std::size_t most, const char* more) {
  // The usual case: no text of so many bytes has more characters, line feeds included.
  if (text.size() * kOfLineFeed <= most) return text;
  std::string safe = drawable(text);
  const std::size_t end = bytes_of(safe, most);
  if (end == safe.size()) return safe;
  const int left_out = columns_of(std::string_view(safe).substr(end));
  safe.resize(end);
  return safe + "\u2026 " + fmt::format(fmt::runtime(more), left_out);
}

std::string one_line(const std::string& text, std::size_t most) {
  std::string safe = drawable(text);
  std::replace(safe.begin(), safe.end(), '\n', ' ');
  const std::size_t end = bytes_of(safe, most);
  if (end < safe.size()) safe = safe.substr(0, end) + "\u2026";
  return safe;
}

}  // namespace weighwright::report
