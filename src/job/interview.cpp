#include "job/interview.h"

#include <algorithm>

namespace weighwright::job {

Interview::Interview(const std::string& name) {
  if (!name.empty()) answers_.name = name;
}

namespace {

Prompt prompt_of(std::size_t at) {
  const auto questions = deck::questions();
  const deck::Question& question = questions[at];
  return Prompt{.number = static_cast<int>(at) + 1,
                .of = static_cast<int>(questions.size()),
                .name = std::string(question.name),
                .text = std::string(question.text),
                .help = std::string(question.help),
                .default_answer = std::string(question.default_answer),
                .example = std::string(question.example)};
}

}  // namespace

std::vector<Prompt> all_questions() {
  std::vector<Prompt> list;
  for (std::size_t i = 0; i < deck::questions().size(); ++i) list.push_back(prompt_of(i));
  return list;
}

std::optional<Prompt> Interview::next() const {
  if (at_ >= deck::questions().size()) return {};
  return prompt_of(at_);
}

std::optional<Refusal> Interview::answer(std::string_view text) {
  const auto questions = deck::questions();
  deck::ParsedAnswer parsed = deck::parse_answer(questions[at_].key, text, answers_);
  if (!parsed.ok()) return Refusal{.what = parsed.what, .expected = parsed.expected};
  answers_ = std::move(parsed.answers);
  at_ = again_ ? questions.size() : at_ + 1;
  if (at_ < questions.size()) return {};
  return finish();
}

std::optional<Refusal> Interview::finish() {
  const auto questions = deck::questions();
  deck::Draft draft = deck::draft_deck(answers_);
  if (draft.ok()) {
    deck_file_ = std::move(draft.text);
    return {};
  }
  const auto wrong = std::find_if(questions.begin(), questions.end(), [&](const auto& question) {
    return question.key == draft.again;
  });
  // Answers that go together nowhere are asked from the start.
  again_ = wrong != questions.end();
  at_ = again_ ? static_cast<std::size_t>(wrong - questions.begin()) : 0;
  return Refusal{.what = draft.what, .expected = draft.expected};
}

}  // namespace weighwright::job
