#include "job/rules_standing.h"

#include <fmt/format.h>

#include <algorithm>

#include "job/practice_remark.h"
#include "job/site_proof.h"
#include "record/local_time.h"

namespace weighwright::job {
namespace {

constexpr std::size_t kLeastDigits = 12;

RulesConfirmation confirmation_of(const SiteState& state, int line) {
  const record::Fields& fields = state.history.words(line).fields;
  const auto said = [&fields](std::string_view name) {
    return std::string(record::field(fields, name));
  };
  RulesConfirmation one{.line = line,
                        .by = said("by"),
                        .print = said("print"),
                        .date = said("date"),
                        .clauses = said("clauses"),
                        .remark = said("remark"),
                        .practice = false};
  if (one.date.empty()) one.date = record::print_date(day_of(state, line));
  return one;
}

}  // namespace

RulesStanding rules_standing_of(const SiteState& state, std::string hash) {
  RulesStanding standing{.hash = std::move(hash), .confirmed = {}, .another = {}};
  for (const int line : state.rules_confirmed) {
    const bool holds =
        record::field(state.history.words(line).fields, "rulebook_hash") == standing.hash;
    if (holds) {
      standing.confirmed = confirmation_of(state, line);
    } else {
      standing.another = line;
    }
  }
  if (standing.confirmed) standing.another.reset();
  if (!standing.confirmed && is_practice(state)) {
    standing.confirmed = RulesConfirmation{};
    standing.confirmed->by = "practice site";
    standing.confirmed->practice = true;
  }
  return standing;
}

std::string standing_words(const RulesStanding& standing) {
  if (standing.hash.empty()) return "";
  if (!standing.confirmed) {
    std::string text =
        "Nobody is on record as having compared the rulebook's numbers with its print.";
    if (standing.another) {
      text += fmt::format(
          " Entry {} confirms another text of the rulebook than the one in force; compare again.",
          *standing.another + 1);
    }
    return text;
  }
  const RulesConfirmation& one = *standing.confirmed;
  if (one.practice) {
    return "Practice site: the rulebook counts as compared with print here, and nowhere else.";
  }
  std::string text = fmt::format("The rulebook's numbers were compared with print by {}, {}: {}",
                                 one.by, one.date, one.print);
  if (!one.clauses.empty()) text += "; " + one.clauses;
  if (!one.remark.empty()) text += "; " + one.remark;
  return text + fmt::format(" (entry {}).", one.line + 1);
}

std::string meant_hash(const std::string& typed, const std::string& hash) {
  std::string digits;
  for (const char c : typed) {
    if (c == ' ') continue;
    digits += static_cast<char>(c >= 'A' && c <= 'F' ? c - 'A' + 'a' : c);
  }
  return digits.size() >= kLeastDigits && hash.starts_with(digits) ? hash : "";
}

}  // namespace weighwright::job
