#include <algorithm>
#include <array>
#include <cstddef>
#include <string>
#include <utility>

#include "deck/draft.h"
#include "deck/limits.h"
#include "deck/rulebook_name.h"
#include "deck/thread.h"
#include "units/diagnostic.h"
#include "units/quantity.h"

namespace weighwright::deck {

namespace {

using units::Kind;
using units::quote;

std::string_view trim(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// Parts of a list. A comma between digits is no separator, so that "80,000 lb, 20 lb" is two parts
/// and a decimal comma reaches the reader of quantities, who has the better message.
std::vector<std::string_view> split(std::string_view text, char separator) {
  std::vector<std::string_view> parts;
  std::size_t start = 0;
  for (std::size_t i = 0; i <= text.size(); ++i) {
    const bool at_end = i == text.size();
    if (!at_end && text[i] != separator) continue;
    const bool in_number = !at_end && separator == ',' && i > 0 && i + 1 < text.size() &&
                           is_digit(text[i - 1]) && is_digit(text[i + 1]);
    if (in_number) continue;
    parts.push_back(trim(text.substr(start, i - start)));
    start = i + 1;
  }
  return parts;
}

bool starts_with_word(std::string_view& text, std::string_view word) {
  if (!text.starts_with(word)) return false;
  if (text.size() > word.size() && text[word.size()] != ' ' && text[word.size()] != ',')
    return false;
  text = trim(text.substr(word.size()));
  if (text.starts_with(",")) text = trim(text.substr(1));
  return true;
}

/// Reads one answer into a copy of the answers so far.
class AnswerReader {
 public:
  AnswerReader(const Question& question, std::string_view text, const Answers& so_far)
      : question_(&question), text_(trim(text)), result_{so_far, "", ""} {}

  ParsedAnswer read() {
    result_.answers.by_default.erase(question_->key);
    if (text_.empty()) {
      if (question_->default_answer.empty()) {
        fail("there is no answer", "");
        return finish();
      }
      text_ = question_->default_answer;
      result_.answers.by_default.insert(question_->key);
    }
    switch (question_->key) {
      case QuestionKey::rulebook:
        read_rulebook();
        break;
      case QuestionKey::capacity:
        read_capacity();
        break;
      case QuestionKey::sections:
        read_sections();
        break;
      case QuestionKey::modules:
        read_modules();
        break;
      case QuestionKey::construction:
        read_construction();
        break;
      case QuestionKey::cell:
        read_cell();
        break;
      case QuestionKey::adjust:
        read_adjust();
        break;
      case QuestionKey::signal:
        read_signal();
        break;
    }
    return finish();
  }

 private:
  Answers& answers() { return result_.answers; }

  void fail(std::string what, std::string expected) {
    if (!result_.ok()) return;
    result_.what = std::move(what);
    result_.expected = std::move(expected);
  }

  ParsedAnswer finish() {
    if (!result_.ok() && result_.expected.empty()) {
      result_.expected = "write it like this: " + std::string(question_->example);
    }
    return std::move(result_);
  }

  Told quantity(std::string_view text, Kind kind, const Limits& limits) {
    const units::Parsed parsed = units::parse(text, kind);
    if (!parsed.ok()) {
      fail(parsed.what, parsed.expected);
    } else if (parsed.value < limits.lowest || parsed.value > limits.highest) {
      fail(quote(text) + " is impossible", std::string(limits.words));
    }
    return {std::string(text), parsed.value};
  }

  void read_rulebook() {
    const std::size_t digit = text_.find_first_of("0123456789");
    const std::size_t end =
        digit == std::string_view::npos ? digit : text_.find_first_not_of("0123456789", digit);
    const std::string_view name = text_.substr(0, end);
    const auto rulebook = parse_rulebook(name);
    if (!rulebook) {
      fail("the rulebook " + quote(name) + " is unknown",
           "R76 (OIML R 76) or H44 (NIST Handbook 44)");
      return;
    }
    std::string_view rest =
        end == std::string_view::npos ? std::string_view{} : trim(text_.substr(end));
    if (rest.starts_with(",")) rest = trim(rest.substr(1));
    starts_with_word(rest, "class");
    if (rest.empty()) {
      fail("the accuracy class is missing",
           "write it behind the rulebook, as in " + *rulebook + " III");
      return;
    }
    const auto accuracy_class = parse_class(*rulebook, rest);
    if (!accuracy_class) {
      fail("class " + quote(rest) + " is not a class of " + *rulebook, classes_of(*rulebook));
      return;
    }
    answers().rulebook = *rulebook;
    answers().accuracy_class = *accuracy_class;
  }

  void read_capacity() {
    const std::vector<std::string_view> parts = split(text_, ',');
    if (parts.size() != 2) {
      fail("two quantities are wanted: capacity and interval", "");
      return;
    }
    answers().capacity = quantity(parts[0], Kind::mass, kMass);
    answers().interval = quantity(parts[1], Kind::mass, kInterval);
    if (result_.ok() && answers().interval.value >= answers().capacity.value) {
      fail("the interval is not smaller than the capacity",
           "the capacity first, as in 60 t, 20 kg");
    }
  }

  void read_sections() {
    std::string_view places = text_;
    std::string_view across;
    const std::size_t word = text_.find("across");
    if (word != std::string_view::npos) {
      places = trim(text_.substr(0, word));
      across = trim(text_.substr(word + std::string_view("across").size()));
      while (places.ends_with(";") || places.ends_with(","))
        places = trim(places.substr(0, places.size() - 1));
    }
    if (across.empty()) {
      fail("the distance from left to right is missing", "end with it, as in; across 2.4 m");
      return;
    }
    answers().across = quantity(across, Kind::length, kWidth);
    answers().sections.clear();
    for (const std::string_view place : split(places, ',')) read_place(place);
    if (answers().sections.size() < 2)
      fail("a deck on one section can't stand", "at least two sections");
    if (answers().sections.size() > static_cast<std::size_t>(kMostSections)) {
      fail("too many sections", "at most " + std::to_string(kMostSections));
    }
  }

  void read_place(std::string_view place) {
    std::vector<Told>& sections = answers().sections;
    const bool from_before = place.starts_with("+") && !sections.empty();
    const std::string_view written = place.starts_with("+") ? trim(place.substr(1)) : place;
    Told told = quantity(written, Kind::length, kPlace);
    if (!result_.ok()) return;
    if (from_before) {
      told.text = sum_text(told.value + sections.back().value);
      told.value = units::parse(told.text, Kind::length).value;
    }
    constexpr double kApart_m = 2e-3 - 1e-9;  // two tape readings, and rounding of sums
    if (!sections.empty() && told.value < sections.back().value + kApart_m) {
      fail("section " + std::to_string(sections.size() + 1) + " at " + quote(written) +
               " does not lie beyond the one before",
           "distances from end 1 in order, or distances from the section before with a plus sign: "
           "0.3 m, +7 m, +6.4 m");
    }
    sections.push_back(std::move(told));
  }

  /// A sum in the units of the rulebook, to a hundredth of a millimetre.
  [[nodiscard]] std::string sum_text(double value_m) const {
    const bool us = result_.answers.rulebook == "H44";
    const double shown = us ? value_m / units::kInch_m : value_m;
    std::string text = units::print_fixed(shown, us ? 3 : 5);
    while (text.ends_with("0")) text.pop_back();
    if (text.ends_with(".")) text.pop_back();
    return text + (us ? " in" : " m");
  }

  void read_modules() {
    const std::size_t semicolon = text_.find(';');
    answers().modules.clear();
    answers().rests.clear();
    for (const std::string_view piece : split(text_.substr(0, semicolon), ',')) read_module(piece);
    if (answers().modules.size() > static_cast<std::size_t>(kMostModules)) {
      fail("too many modules", "at most " + std::to_string(kMostModules));
    }
    if (semicolon == std::string_view::npos) return;
    const std::string_view rests = trim(text_.substr(semicolon + 1));
    if (rests.empty()) return;
    for (const std::string_view rest : split(rests, ',')) read_rest(rest);
  }

  void read_module(std::string_view piece) {
    const std::size_t space = piece.find(' ');
    // a mark may be a number: "1 24 ft" is module 1, but "1 1/2 ft" is a length
    const bool has_mark =
        space != std::string_view::npos && !units::parse(piece, Kind::length).ok() &&
        (!is_digit(piece.front()) || units::parse(piece.substr(space), Kind::length).ok());
    std::vector<ToldModule>& modules = answers().modules;
    const std::string by_count(1, static_cast<char>('A' + modules.size() % 26));
    std::string mark = has_mark ? std::string(piece.substr(0, space)) : by_count;
    const Told length =
        quantity(has_mark ? trim(piece.substr(space)) : piece, Kind::length, kModuleLength);
    const bool doubled = std::any_of(modules.begin(), modules.end(),
                                     [&](const ToldModule& module) { return module.mark == mark; });
    if (doubled)
      fail("two modules have the mark " + quote(mark), "a mark of its own for each module");
    modules.push_back({std::move(mark), length});
  }

  void read_rest(std::string_view rest) {
    const std::size_t on = rest.find(" on ");
    if (on == std::string_view::npos) {
      fail(quote(rest) + " is not clear", "write A on B where A's bearings lie in B's seats");
      return;
    }
    ToldRest told{std::string(trim(rest.substr(0, on))), std::string(trim(rest.substr(on + 4)))};
    const auto place = [&](const std::string& mark) {
      const auto& modules = answers().modules;
      const auto found =
          std::find_if(modules.begin(), modules.end(),
                       [&](const ToldModule& module) { return module.mark == mark; });
      return found == modules.end() ? -10 : static_cast<int>(found - modules.begin());
    };
    const int distance = place(told.upper) - place(told.lower);
    if (distance != 1 && distance != -1) {
      fail(quote(rest) + " names no neighbours", "two modules that meet at a joint, as in A on B");
      return;
    }
    const bool again =
        std::any_of(answers().rests.begin(), answers().rests.end(), [&](const ToldRest& r) {
          return (r.upper == told.upper && r.lower == told.lower) ||
                 (r.upper == told.lower && r.lower == told.upper);
        });
    if (again) fail(quote(rest) + ": that joint was told already", "one A on B for each joint");
    answers().rests.push_back(std::move(told));
  }

  void read_construction() {
    struct Word {
      std::string_view word;
      Construction construction;
    };
    static constexpr std::array kWords = {
        Word{"open", Construction::open}, Word{"cells", Construction::cells},
        Word{"box", Construction::box}, Word{"concrete", Construction::concrete},
        Word{"unknown", Construction::unknown}};
    answers().slab.reset();
    for (const Word& candidate : kWords) {
      std::string_view rest = text_;
      if (!starts_with_word(rest, candidate.word)) continue;
      answers().construction = candidate.construction;
      if (rest.empty()) return;
      if (candidate.construction == Construction::concrete) {
        answers().slab = quantity(rest, Kind::length, kSmallLength);
        return;
      }
    }
    fail("the kind " + quote(text_) + " is unknown",
         "open, cells, box, concrete (and the slab's thickness) or unknown");
  }

  void read_cell() {
    const std::vector<std::string_view> parts = split(text_, ',');
    answers().cell_output.reset();
    answers().cell_counts.reset();
    if (parts.size() != 2) {
      fail("two values are wanted: capacity and rated output",
           "25 t, 2 mV/V (or 25 t, 100000 counts)");
      return;
    }
    answers().cell_capacity = quantity(parts[0], Kind::mass, kMass);
    std::string_view second = parts[1];
    if (!second.ends_with("counts")) {
      answers().cell_output = quantity(second, Kind::voltage_ratio, kOutput);
      return;
    }
    second = trim(second.substr(0, second.size() - std::string_view("counts").size()));
    const units::Parsed counts = units::parse(second, Kind::fraction);
    const bool whole = counts.ok() && counts.value >= 1.0 && counts.value <= 2e9 &&
                       second.find_first_not_of("0123456789") == std::string_view::npos;
    if (!whole)
      fail(quote(parts[1]) + " is no number of counts", "a whole number, as in 100000 counts");
    answers().cell_counts = counts.value;
  }

  void read_adjust() {
    answers().thread.reset();
    answers().shims.clear();
    std::string_view rest = text_;
    if (rest == "none") {
      answers().adjust = Adjust::none;
    } else if (starts_with_word(rest, "screws")) {
      answers().adjust = Adjust::screws;
      if (rest.empty()) return;
      if (!parse_thread(rest))
        fail("the thread " + quote(rest) + " is unknown", "M20, M20x1.5 or 5/8-11 UNC");
      answers().thread = std::string(rest);
    } else if (starts_with_word(rest, "shims")) {
      answers().adjust = Adjust::shims;
      if (rest.empty()) {
        fail("the shims on hand are missing", "shims 0.5 mm, 1 mm, 3 mm");
        return;
      }
      for (const std::string_view shim : split(rest, ',')) {
        answers().shims.push_back(quantity(shim, Kind::length, kSmallLength));
      }
    } else {
      fail(quote(text_) + " is not understood",
           "screws (and their thread), shims (and their thicknesses) or none");
    }
  }

  void read_signal() {
    answers().excitation.reset();
    std::string_view rest = text_;
    if (rest == "digital") {
      answers().digital = true;
    } else if (starts_with_word(rest, "analog")) {
      answers().digital = false;
      if (!rest.empty()) answers().excitation = quantity(rest, Kind::voltage, kExcitation);
    } else {
      fail(quote(text_) + " is not understood",
           "analog (and the supply, as in analog 10 V) or digital");
    }
  }

  const Question* question_;
  std::string_view text_;
  ParsedAnswer result_;
};

}  // namespace

ParsedAnswer parse_answer(QuestionKey key, std::string_view text, const Answers& so_far) {
  constexpr std::size_t kLongestAnswer = 4000;
  if (text.size() > kLongestAnswer) {
    return {so_far, "the answer is too long", "write it in one line"};
  }
  if (!units::is_utf8(text))
    return {so_far, "the answer is no text in UTF-8", "letters and digits"};
  return AnswerReader(questions()[static_cast<std::size_t>(key)], text, so_far).read();
}

}  // namespace weighwright::deck
