#pragma once
/// A deck file from eight questions, for someone at the pit who would never write one.
///
/// A face asks `questions()` in their order, hands every answer to `parse_answer`, asks again while
/// that says what is wrong, and writes what `draft_deck` gives. Every guess in the file is marked
/// "# assumed"; deck/reading reads the file without a fault.

#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "deck/deck.h"

namespace weighwright::deck {

enum class QuestionKey {
  rulebook,
  capacity,
  sections,
  modules,
  construction,
  cell,
  adjust,
  signal
};

/// One of the eight questions. `help` may have several lines (sketches, where to look).
struct Question {
  QuestionKey key;
  std::string_view name;  // short, for messages and for lists of answers: "sections"
  std::string_view text;
  std::string_view help;
  std::string_view default_answer;  // taken for an empty answer; empty: there must be an answer
  std::string_view example;
};

[[nodiscard]] std::span<const Question> questions();

/// A quantity as the user wrote it, and its value in SI.
struct Told {
  std::string text;
  double value = 0.0;
};

struct ToldModule {
  std::string mark;
  Told length;
};

/// "A on B".
struct ToldRest {
  std::string upper;
  std::string lower;
};

/// What was answered. Fields of questions not yet answered are as here.
struct Answers {
  std::string name = "Weighbridge";  // not asked; a face may set it
  std::string rulebook;              // "R76" or "H44"
  std::string accuracy_class;
  Told capacity;                    // kg
  Told interval;                    // kg
  std::vector<Told> sections;       // m from end 1, ascending
  Told across;                      // m
  std::vector<ToldModule> modules;  // m
  std::vector<ToldRest> rests;      // may be empty
  Construction construction = Construction::cells;
  std::optional<Told> slab;           // m
  Told cell_capacity;                 // kg
  std::optional<Told> cell_output;    // V/V
  std::optional<double> cell_counts;  // at capacity, of a digital cell
  Adjust adjust = Adjust::screws;
  std::optional<std::string> thread;
  std::vector<Told> shims;  // m
  bool digital = false;
  std::optional<Told> excitation;    // V
  std::set<QuestionKey> by_default;  // questions answered by nothing
};

/// The answers with one more, or what is wrong with it and what would be right.
struct ParsedAnswer {
  Answers answers;
  std::string what;  // empty when the answer was understood
  std::string expected;
  [[nodiscard]] bool ok() const { return what.empty(); }
};

/// Reads the answer to one question; an empty one takes the default. Never throws.
/// @param so_far  the answers to the questions before (classes depend on the rulebook)
[[nodiscard]] ParsedAnswer parse_answer(QuestionKey key,
                                        std::string_view text,
                                        const Answers& so_far);

/// A deck file, or what does not go together in the answers.
struct Draft {
  std::string text;
  std::string what;  // empty when there is a text
  std::string expected;
  std::optional<QuestionKey> again;  // the question to ask again
  [[nodiscard]] bool ok() const { return what.empty(); }
};

/// @pre every question was answered
[[nodiscard]] Draft draft_deck(const Answers& answers);

}  // namespace weighwright::deck
