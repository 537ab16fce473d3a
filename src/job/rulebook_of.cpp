#include "job/rulebook_of.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <string_view>

#include "journal/entry_hash.h"
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

/// What counts of a rulebook's text, a line each.
std::string substance_of(std::string_view text) {
  std::string kept;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    std::string_view line = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    const std::size_t first = line.find_first_not_of(" \t\r");
    if (first == std::string_view::npos || line[first] == '#') continue;
    line = line.substr(first, line.find_last_not_of(" \t\r") - first + 1);
    kept += std::string(line) + '\n';
  }
  return kept;
}

}  // namespace

std::string rules_hash(const std::string& base, const std::optional<InputFile>& variant) {
  std::string text;
  if (!base.empty()) text = substance_of(rules::built_in_text(base));
  if (variant) text += '\0' + substance_of(variant->text);
  return journal::print_hex(journal::attachment_hash(text));
}

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
  if (answer.rulebook) {
    const bool whole = variant && answer.rulebook->base.empty();
    answer.hash = rules_hash(whole ? "" : deck.rulebook, variant);
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
