#include "units/suggestion.h"

#include <algorithm>
#include <cstddef>
#include <numeric>

namespace weighwright::units {

namespace {

constexpr std::size_t kLongestWord = 64;

char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i + 1;
    for (std::size_t j = 0; j < b.size(); ++j) {
      const std::size_t changed = diagonal + (lower(a[i]) == lower(b[j]) ? 0U : 1U);
      diagonal = row[j + 1];
      row[j + 1] = std::min({changed, row[j] + 1, row[j + 1] + 1});
    }
  }
  return row.back();
}

}  // namespace

std::optional<std::string> nearest(std::string_view word,
                                   std::span<const std::string_view> candidates) {
  if (word.size() > kLongestWord) return std::nullopt;
  std::optional<std::string> best;
  std::size_t best_distance = word.size() / 3 + 2;
  for (const std::string_view candidate : candidates) {
    const std::size_t d = distance(word, candidate);
    if (d < best_distance && d < candidate.size()) {
      best = std::string(candidate);
      best_distance = d;
    }
  }
  return best;
}

std::string either(std::span<const std::string> words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " or " : ", ";
    text += words[i];
  }
  return text;
}

}  // namespace weighwright::units
