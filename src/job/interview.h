#pragma once
/// The questions of `new`, one after the other, whoever asks them.

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "deck/draft.h"

namespace weighwright::job {

/// One question, ready to be asked.
struct Prompt {
  int number = 0;  // from 1
  int of = 0;
  std::string name;
  std::string text;
  std::string help;            // may have several lines
  std::string default_answer;  // taken for an empty answer; may be empty
  std::string example;
};

/// All of them, in order, whatever is answered.
[[nodiscard]] std::vector<Prompt> all_questions();

/// Why an answer was not taken.
struct Refusal {
  std::string what;
  std::string expected;
};

/// Asks, hears, asks again. When all is answered and the answers do not go together, the question
/// that has to be answered anew comes next.
class Interview {
 public:
  /// @param name  of the deck; empty: the drafter's own
  explicit Interview(const std::string& name);
  /// The question to ask now; empty when the deck file is ready.
  [[nodiscard]] std::optional<Prompt> next() const;
  /// Takes the answer to that question. @return why not, when it was not taken
  /// @pre next() has a question
  [[nodiscard]] std::optional<Refusal> answer(std::string_view text);
  /// The deck file. @pre next() is empty
  [[nodiscard]] const std::string& deck_file() const { return deck_file_; }

 private:
  std::optional<Refusal> finish();

  deck::Answers answers_;
  std::size_t at_ = 0;
  bool again_ = false;  // a single question was asked anew
  std::string deck_file_;
};

}  // namespace weighwright::job
