#include "job/rehearse_words.h"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <utility>

#include "job/deck_argument.h"
#include "units/diagnostic.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

std::optional<double> plain_number(const std::string& text) {
  double value = 0.0;
  const char* const start = text.data() + (text.starts_with('+') ? 1 : 0);
  const auto read = std::from_chars(start, text.data() + text.size(), value);
  if (read.ec != std::errc{} || read.ptr != text.data() + text.size()) return {};
  if (!std::isfinite(value)) return {};
  return value;
}

/// "3/4", "-1/8", "0.75".
std::optional<double> part_of_turn(const std::string& text) {
  const std::size_t slash = text.find('/');
  if (slash == std::string::npos) return plain_number(text);
  const auto top = plain_number(text.substr(0, slash));
  const auto bottom = plain_number(text.substr(slash + 1));
  if (!top || !bottom || *bottom <= 0.0) return {};
  return *top / *bottom;
}

bool begins_number(const std::string& text) {
  return !text.empty() && (std::isdigit(static_cast<unsigned char>(text.front())) != 0 ||
                           text.front() == '-' || text.front() == '+' || text.front() == '.');
}

std::optional<int> whole(const std::string& text) {
  int value = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  if (read.ec != std::errc{} || read.ptr != text.data() + text.size()) return {};
  return value;
}

}  // namespace

Words words_of(const std::string& line) {
  Words words;
  std::string word;
  for (const char c : line) {
    if (c != ' ' && c != '\t' && c != '\r' && c != '\n') {
      word += c;
      continue;
    }
    if (!word.empty()) words.push_back(std::exchange(word, ""));
  }
  if (!word.empty()) words.push_back(word);
  return words;
}

std::string joined(const Words& words) {
  std::string line;
  for (const std::string& word : words) line += (line.empty() ? "" : " ") + word;
  return line;
}

bool Reader::take(const std::string& word) {
  if (done() || (words_[next_] != word && words_[next_] != "--" + word)) return false;
  ++next_;
  return true;
}

std::string Reader::word(const std::string& expected) {
  if (done()) {
    refuse("the command ends too early", expected);
    return "";
  }
  return words_[next_++];
}

units::StandIndex Reader::stand() {
  const std::string text = word("a stand, " + stand_range(deck_));
  const auto stand = rehearsal::stand_of(deck_, text);
  if (!stand) refuse(units::quote(text) + " is no stand", "a stand, " + stand_range(deck_));
  return stand.value_or(units::StandIndex{});
}

record::LoadPlace Reader::place() {
  const std::string expected =
      "a place: 2L (over a stand), 2 (a section's middle), 2-3 (between), or x,y in metres";
  const std::string text = word(expected);
  record::LoadPlace place;
  place.typed = text;
  const auto sections = static_cast<int>(deck_.sections.size());
  if (const auto stand = rehearsal::stand_of(deck_, text)) {
    place.kind = record::LoadPlace::Kind::stand;
    place.stand = *stand;
    return place;
  }
  if (const auto section = whole(text); section && *section >= 1 && *section <= sections) {
    place.kind = record::LoadPlace::Kind::section;
    place.section = units::SectionIndex{*section - 1};
    return place;
  }
  const std::size_t dash = text.find('-', 1);
  if (dash != std::string::npos) {
    const auto first = whole(text.substr(0, dash));
    const auto second = whole(text.substr(dash + 1));
    if (first && second && *first >= 1 && *second == *first + 1 && *second <= sections) {
      place.kind = record::LoadPlace::Kind::span;
      place.section = units::SectionIndex{*first - 1};
      return place;
    }
  }
  const std::size_t comma = text.find(',');
  if (comma != std::string::npos) {
    const auto x_m = plain_number(text.substr(0, comma));
    const auto y_m = plain_number(text.substr(comma + 1));
    if (x_m && y_m) {
      place.kind = record::LoadPlace::Kind::point;
      place.x_m = *x_m;
      place.y_m = *y_m;
      place.typed.clear();
      return place;
    }
  }
  refuse(units::quote(text) + " is no place of this deck", expected);
  return place;
}

double Reader::quantity(units::Kind kind, const std::string& expected) {
  std::string text = word(expected);
  // The unit may stand apart.
  if (!done() && plain_number(text) && !begins_number(peek()) &&
      !rehearsal::stand_of(deck_, peek())) {
    if (units::parse(text + " " + peek(), kind).ok()) text += " " + words_[next_++];
  }
  const units::Parsed parsed = units::parse(text, kind);
  if (!parsed.ok()) refuse(parsed.what, expected);
  return parsed.ok() ? parsed.value : 0.0;
}

double Reader::mass_kg() {
  return quantity(units::Kind::mass, "a mass with its unit, as 10 t");
}

double Reader::number(const std::string& expected) {
  const std::string text = word(expected);
  const auto value = plain_number(text);
  if (!value) refuse(units::quote(text) + " is no number", expected);
  return value.value_or(0.0);
}

double Reader::turns() {
  const std::string expected = "turns, as 3/4 or 1 1/4 or -0.5";
  const std::string text = word(expected);
  auto value = part_of_turn(text);
  if (!value) {
    refuse(units::quote(text) + " are no turns", expected);
    return 0.0;
  }
  if (text.find('/') == std::string::npos && peek().find('/') != std::string::npos) {
    const auto part = part_of_turn(peek());
    if (part && *part >= 0.0) {
      ++next_;
      *value += text.starts_with('-') ? -*part : *part;
    }
  }
  return *value;
}

void Reader::unit(const std::string& name) {
  (void)take(name);
}

Words Reader::rest() {
  Words rest(words_.begin() + static_cast<std::ptrdiff_t>(next_), words_.end());
  next_ = words_.size();
  return rest;
}

void Reader::refuse(std::string what, std::string expected) {
  if (!refusal_) refusal_ = Refusal{.what = std::move(what), .expected = std::move(expected)};
}

void Reader::end() {
  if (!done()) refuse(units::quote(peek()) + " is left over", "the command without it; see help");
}

rehearsal::Fault read_fault(const deck::Deck& deck, Reader& reader) {
  rehearsal::Fault fault;
  fault.code = reader.word("a fault's code; faults lists them");
  Words rest = reader.rest();
  const rehearsal::FaultRule* const rule = rehearsal::find_fault_rule(fault.code);
  if (rule != nullptr && rest.size() >= 2 && !rule->unit.empty() && rest.back() == rule->unit) {
    fault.size = plain_number(rest[rest.size() - 2]);
    if (!fault.size) reader.refuse(units::quote(rest[rest.size() - 2]) + " is no number", "a size");
    rest.resize(rest.size() - 2);
  } else if (rule != nullptr && rest.size() >= 1 && rest.back().find('.') != std::string::npos &&
             plain_number(rest.back())) {
    reader.refuse("the size " + units::quote(rest.back()) + " has no unit",
                  "a number and " + std::string(rule->unit));
  }
  for (const std::string& word : rest) {
    if ((word == "left" || word == "right") && !fault.places.empty()) {
      fault.places.back() += " " + word;
      continue;
    }
    std::size_t start = 0;
    while (start <= word.size()) {
      const std::size_t comma = std::min(word.find(',', start), word.size());
      if (comma > start) fault.places.push_back(word.substr(start, comma - start));
      start = comma + 1;
    }
  }
  if (!reader.refusal()) {
    const rehearsal::FaultProblem problem = rehearsal::check_fault(deck, fault);
    if (!problem.none()) reader.refuse(problem.what, problem.expected);
  }
  return fault;
}

}  // namespace weighwright::job
