#pragma once
/// A sound deck file for tests, and how to change one line of it.

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>
#include <string>

#include "deck/reading/deck_file.h"

namespace weighwright::deck::testing {

/// Two modules on three sections; every line can be replaced by `changed`.
inline const std::string kSound = R"(format = 1
[deck]
name = "Practice"
rulebook = "R76"
class = "III"
capacity = "60 t"
interval = "20 kg"
[[module]]
mark = "A"
length = "7 m"
[[module]]
mark = "B"
length = "6 m"
[[section]]
at = "0.3 m"
across = "2.4 m"
[[section]]
at = "7.3 m"
across = "2.4 m"
[[section]]
at = "12.7 m"
across = "2.4 m"
[cell]
capacity = "25 t"
output = "2 mV/V"
)";

/// kSound with the first place of `from` replaced.
inline std::string changed(const std::string& from,
                           const std::string& to,
                           std::string text = kSound) {
  const std::size_t at = text.find(from);
  if (at == std::string::npos) {
    ADD_FAILURE() << "not in the file: " << from;
    return text;
  }
  return text.replace(at, from.size(), to);
}

inline std::string faults_of(const std::string& text) {
  const ParsedDeck parsed = parse_deck(text, "deck.toml");
  EXPECT_EQ(parsed.deck.has_value(), parsed.faults.empty());
  std::string all;
  for (const units::Diagnostic& fault : parsed.faults) all += units::print(fault) + "\n";
  return all;
}

inline std::string notes_of(const std::string& text) {
  std::string all;
  for (const units::Diagnostic& note : parse_deck(text, "deck.toml").notes)
    all += units::print(note) + "\n";
  return all;
}

/// The deck of a file that must be sound.
inline Deck deck_of(const std::string& text) {
  const ParsedDeck parsed = parse_deck(text, "deck.toml");
  for (const units::Diagnostic& fault : parsed.faults) ADD_FAILURE() << units::print(fault);
  return parsed.deck.value_or(Deck{});
}

inline std::string read_file(const std::string& path) {
  std::ifstream file(std::string(WEIGHWRIGHT_SOURCE_DIR) + "/" + path, std::ios::binary);
  EXPECT_TRUE(file) << path;
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

}  // namespace weighwright::deck::testing
