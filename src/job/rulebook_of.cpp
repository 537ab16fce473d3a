#include "job/rulebook_of.h"

#include <fmt/format.h>

#include "rules/reading/read_rulebook.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

units::Diagnostic fault(const std::string& file, std::string what, std::string expected) {
  return {.file = file,
          .line = 0,
          .column = 0,
          .what = std::move(what),
          .expected = std::move(expected)};
}

std::string classes_of(const rules::Rulebook& rulebook) {
  std::string list;
  for (const rules::ClassRule& one : rulebook.classes) {
    list += (list.empty() ? "" : ", ") + one.name;
  }
  return list;
}

/// Like "Placed in service (as_new)".
std::string occasions_of(const rules::Rulebook& rulebook) {
  std::string list;
  for (const rules::OccasionRule& one : rulebook.occasions) {
    list += fmt::format("{}{} ({})", list.empty() ? "" : "; ", rules::code_of(one.occasion),
                        occasion_words(rulebook, one.occasion));
  }
  return list;
}

}  // namespace

RulebookAnswer rulebook_of(const deck::Deck& deck, const std::optional<InputFile>& variant) {
  RulebookAnswer answer;
  if (variant) {
    rules::ReadRulebook read = rules::read_rulebook(variant->text, variant->name);
    answer.faults = std::move(read.faults);
    answer.rulebook = std::move(read.rulebook);
    const bool whole = answer.rulebook && answer.rulebook->base.empty();
    if (answer.rulebook && !whole && answer.rulebook->base != deck.rulebook) {
      answer.faults.push_back(fault(
          variant->name,
          fmt::format("it changes {}, and the deck is by {}", answer.rulebook->base, deck.rulebook),
          "a file whose base is the deck's rulebook"));
      answer.rulebook.reset();
    }
  } else {
    answer.rulebook = rules::built_in(deck.rulebook);
  }
  if (answer.rulebook && answer.rulebook->find_class(deck.accuracy_class) == nullptr) {
    answer.faults.push_back(fault("deck",
                                  fmt::format("class {} is none of {}", deck.accuracy_class,
                                              rulebook_title(*answer.rulebook)),
                                  "class " + classes_of(*answer.rulebook)));
    answer.rulebook.reset();
  }
  return answer;
}

OccasionAnswer occasion_of(const rules::Rulebook& rulebook, const std::string& typed) {
  const auto found = typed.empty() ? std::nullopt : rules::find_occasion(typed);
  if (found && rulebook.find_occasion(*found) != nullptr) return {.occasion = found, .faults = {}};
  const std::string what = typed.empty() ? "the occasion of the test is not given"
                                         : units::quote(typed) + " is no occasion of a test";
  return {.occasion = {},
          .faults = {fault("occasion", what,
                           "one of these, since limits depend on it: " + occasions_of(rulebook))}};
}

std::string occasion_words(const rules::Rulebook& rulebook, rules::Occasion occasion) {
  const rules::OccasionRule* const rule = rulebook.find_occasion(occasion);
  if (rule == nullptr) return "";
  const std::string limits = rule->factor == 1.0
                                 ? "limits of the table"
                                 : "limits of the table times " + units::print_exact(rule->factor);
  return fmt::format("{}: {}, {}", rule->says, limits, rulebook.cite(rule->source));
}

std::string rulebook_title(const rules::Rulebook& rulebook) {
  const bool year = rulebook.edition.find_first_not_of("0123456789") == std::string::npos;
  if (rulebook.base.empty()) {
    return year ? rulebook.title + ":" + rulebook.edition
                : rulebook.title + " (" + rulebook.edition + ")";
  }
  const rules::Rulebook& base = rules::built_in(rulebook.base);
  return rulebook_title(base) + " as changed by " + rulebook.title;
}

}  // namespace weighwright::job
