#include "job/compatibility_view_of.h"

#include <fmt/format.h>

#include <cmath>
#include <string_view>

#include "job/electric_words.h"
#include "job/speak.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

const char* verdict_of(signal::Verdict verdict) {
  switch (verdict) {
    case signal::Verdict::holds:
      return "holds";
    case signal::Verdict::fails:
      return "fails";
    case signal::Verdict::not_judged:
      break;
  }
  return "not_judged";
}

std::string figure(double value, const std::string& unit, bool us) {
  if (unit == "kg" && us) return fmt::format("{:.5g} lb", value / units::kPound_kg);
  if (unit == "kg") return fmt::format("{:.5g} kg", value);
  if (unit == "degC" && us) return fmt::format("{:.3g} degF", value * 9.0 / 5.0 + 32.0);
  if (unit == "m/m2") return fmt::format("{:.4g} m/mm2", value * 1e-6);
  return quantity_words(value, unit);
}

/// "E_max 30000 kg"; the name is left out where it is the figure itself ("1").
std::string side(const std::string& name,
                 const std::optional<double>& value,
                 const std::string& text,
                 const std::string& unit,
                 bool us) {
  const std::string shown = value ? figure(*value, unit, us) : text;
  return name == shown ? shown : name + " = " + shown;
}

/// "short by 6 %": relative to the bound.
std::string room(const signal::Inequality& row) {
  if (!row.margin || row.right == 0.0) return "";
  const double margin = std::abs(*row.margin);
  if (row.verdict == signal::Verdict::fails) return ": off by " + share_words(margin);
  return margin < 5e-4 ? ", just" : ", " + share_words(margin) + " to spare";
}

/// The clause; the rulebook's name stands above the rows. A star: its wording is from memory.
std::string source(const signal::Inequality& row) {
  constexpr std::string_view kRulebook = "R 76-1:2006, ";
  std::string_view clause = row.clause;
  if (clause.starts_with(kRulebook)) clause.remove_prefix(kRulebook.size());
  return fmt::format(" ({}{})", clause, row.source_unverified ? " *" : "");
}

std::string sentence(const signal::Inequality& row, bool us) {
  if (row.verdict == signal::Verdict::not_judged) {
    return row.what + " (lacks " + all_of(row.missing) + ")";
  }
  const bool fails = row.verdict == signal::Verdict::fails;
  if (!row.left) {
    return fmt::format("{}: {} {} {}{}", row.what, row.left_text, fails ? "is too low for" : "for",
                       row.right_text, source(row));
  }
  const char* const bound = row.relation == "<=" ? "at most" : "at least";
  return fmt::format(
      "{}: {}, {}{} {}{}{}", row.what, side(row.left_name, row.left, row.left_text, row.unit, us),
      fails ? "should be " : "", bound,
      side(row.right_name, row.right, row.right_text, row.unit, us), room(row), source(row));
}

}  // namespace

std::vector<report::InequalityView> rows_of(const deck::Deck& deck,
                                            const signal::Compatibility& check) {
  const bool us = deck.units == deck::UnitSystem::us;
  std::vector<report::InequalityView> views;
  for (const signal::Inequality& row : check.rows) {
    report::InequalityView view;
    view.code = row.code;
    view.clause = row.clause;
    view.what = row.what;
    view.left_name = row.left_name;
    view.relation = row.relation;
    view.right_name = row.right_name;
    view.unit = row.unit;
    view.left = row.left;
    view.right = row.right;
    view.left_text = row.left_text;
    view.right_text = row.right_text;
    view.verdict = verdict_of(row.verdict);
    view.margin = row.margin;
    view.missing = row.missing;
    view.source_unverified = row.source_unverified;
    view.sentence = sentence(row, us);
    views.push_back(std::move(view));
  }
  return views;
}

}  // namespace weighwright::job
