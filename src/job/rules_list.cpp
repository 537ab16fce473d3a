#include "job/rules_list.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>

#include "job/rulebook_of.h"
#include "rules/numbers.h"
#include "rules/words.h"

namespace weighwright::job {
namespace {

using rules::Basis;

const char* code_of(Basis basis) {
  switch (basis) {
    case Basis::read:
      return "read";
    case Basis::quoted:
      return "quoted";
    case Basis::memory:
      break;
  }
  return "memory";
}

bool is_of_no_document(const rules::Source& source) {
  return source.clause.starts_with(rules::kCommonPractice);
}

std::string known_words(const rules::Source& source) {
  if (is_of_no_document(source)) return "stands in no document";
  switch (source.basis) {
    case Basis::read:
      return "read in the document itself";
    case Basis::quoted:
      return "not read there; quoted by " + source.carrier;
    case Basis::memory:
      break;
  }
  return "not seen in any print";
}

/// How many numbers are known in which way.
std::string counts_words(const std::vector<rules::Number>& numbers) {
  const auto count = [&numbers](Basis basis) {
    return std::count_if(numbers.begin(), numbers.end(), [basis](const rules::Number& one) {
      return one.source.basis == basis && !is_of_no_document(one.source);
    });
  };
  const auto ours = std::count_if(numbers.begin(), numbers.end(), [](const rules::Number& one) {
    return is_of_no_document(one.source);
  });
  return fmt::format(
      "Of {} numbers {} were read in the document itself, {} are quoted by other documents, {} "
      "were "
      "not seen in any print, {} stand in no document (common practice).",
      numbers.size(), count(Basis::read), count(Basis::quoted), count(Basis::memory), ours);
}

report::RulesView view_of(const rules::Rulebook& rulebook,
                          const RulesStanding& standing,
                          const std::vector<rules::Number>& numbers) {
  report::RulesView view;
  view.title = rulebook_title(rulebook);
  view.remark = rulebook.remark;
  view.hash = standing.hash;
  view.confirmed = standing.confirmed.has_value();
  view.says = standing_words(standing);
  view.known = counts_words(numbers);
  for (const rules::Number& one : numbers) {
    const std::string says = number_says(rulebook, one.name);
    view.numbers.push_back({.name = one.name,
                            .says = says.empty() ? one.name : says,
                            .value = rules::number_words(one.value),
                            .clause = rulebook.cite(one.source),
                            .basis = code_of(one.source.basis),
                            .known = known_words(one.source)});
  }
  return view;
}

/// "class.III." of "class.III.steps[1].limit", where it is of another class or occasion.
bool is_of_another(const std::string& name,
                   const std::string& accuracy_class,
                   std::optional<rules::Occasion> occasion) {
  constexpr std::string_view kClass = "class.";
  constexpr std::string_view kOccasion = "occasion.";
  if (name.starts_with(kClass))
    return !name.starts_with(std::string(kClass) + accuracy_class + ".");
  if (!name.starts_with(kOccasion)) return false;
  return !occasion ||
         !name.starts_with(std::string(kOccasion) + std::string(rules::code_of(*occasion)) + ".");
}

}  // namespace

report::RulesView rules_list(const rules::Rulebook& rulebook, const RulesStanding& standing) {
  report::RulesView view = view_of(rulebook, standing, rules::numbers_of(rulebook));
  view.how = {
      "Take your own printed edition. Tick every line that stands there so, and write down the "
      "page. Loads and limits count in divisions unless they carry a unit.",
      "Where your print says otherwise: a file with what differs (a variant of the rulebook), and "
      "a "
      "new list of that.",
      "Then record it: weighwright job add JOB --entry rules_confirmed by=\"NAME\" "
      "print=\"EDITION, "
      "PRINTING\" rulebook_hash=" +
          standing.hash + " clauses=\"CLAUSES AND PAGES\"",
      "It holds for exactly this text of the rulebook. Papers then name it; without it they carry "
      "the list."};
  return view;
}

report::RulesView rules_of_test(const rules::Rulebook& rulebook,
                                const RulesStanding& standing,
                                const std::string& accuracy_class,
                                std::optional<rules::Occasion> occasion,
                                bool unread) {
  std::vector<rules::Number> numbers = rules::numbers_of(rulebook);
  std::erase_if(numbers, [&](const rules::Number& one) {
    return is_of_another(one.name, accuracy_class, occasion);
  });
  report::RulesView view = view_of(rulebook, standing, numbers);
  if (unread) {
    std::erase_if(view.numbers,
                  [](const report::RuleNumberView& one) { return one.basis == "read"; });
  }
  return view;
}

RulesListAnswer rules_list_case(const InputFile& deck, const std::optional<InputFile>& variant) {
  LoadedDeck loaded = load_deck(deck);
  if (!loaded.ok()) return {.view = {}, .faults = std::move(loaded.faults)};
  RulebookAnswer book = rulebook_of(*loaded.deck, variant);
  if (!book.rulebook) return {.view = {}, .faults = std::move(book.faults)};
  return {.view = rules_list(*book.rulebook, {.hash = book.hash, .confirmed = {}, .another = {}}),
          .faults = {}};
}

}  // namespace weighwright::job
