#include "deck/rulebook_name.h"

namespace weighwright::deck {

namespace {

std::string letters_of(std::string_view text) {
  std::string letters;
  for (const char c : text) {
    if (c != ' ' && c != '-') letters += c;
  }
  return letters;
}

}  // namespace

std::optional<std::string> parse_rulebook(std::string_view text) {
  const std::string name = letters_of(text);
  if (name == "R76" || name == "OIMLR76") return "R76";
  if (name == "H44" || name == "HB44") return "H44";
  return std::nullopt;
}

std::optional<std::string> parse_class(std::string_view rulebook, std::string_view text) {
  const std::string name = letters_of(text);
  const bool us = rulebook == "H44";
  if (name == "III") return "III";
  if (us && name == "IIIL") return "III L";
  if (!us && name == "IIII") return "IIII";
  return std::nullopt;
}

std::string classes_of(std::string_view rulebook) {
  return rulebook == "H44" ? R"("III L" or "III")" : R"("III" or "IIII")";
}

}  // namespace weighwright::deck
