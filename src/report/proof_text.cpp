#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "report/paragraph.h"
#include "report/proof_view.h"

namespace weighwright::report {
namespace {

constexpr int kWidth = 80;
constexpr int kLongestPlace = 14;  // columns beside the figures; longer ones stand below the table

using Column = std::vector<std::optional<double>>;
using Lines = std::vector<const ProofLineView*>;

constexpr const char* kInsideBand =
    "not accepted: within the limit, inside the guard band (ILAC-G8:09/2019, 4.2.2)";

std::string verdict_word(const std::string& verdict) {
  if (verdict == "fail") return "FAIL";
  if (verdict == "not_accepted") return "not accepted";
  return verdict == "not_judged" ? "not judged" : verdict;
}

/// ILAC-G8:09/2019, 4.2.3: the words between pass and fail.
std::string sure_word(const ProofLineView& line) {
  if (line.verdict == "not_judged") return verdict_word(line.verdict);
  if (line.sure == "conditional_pass") return "pass, conditional";
  if (line.sure == "conditional_fail") return "FAIL, conditional";
  return verdict_word(line.verdict);
}

std::string place_of(const ProofLineView& line) {
  if (line.material.empty()) return line.where;
  return line.where.empty() ? line.material : line.where + ", " + line.material;
}

template <typename Get>
Column column_of(const Lines& lines, Get get) {
  Column column;
  for (const ProofLineView* line : lines) column.push_back(get(*line));
  return column;
}

std::vector<std::string> factors(const Lines& lines) {
  std::vector<std::string> texts;
  for (const ProofLineView* line : lines)
    texts.push_back(line->k && std::isfinite(*line->k) ? fmt::format("{:.2f}", *line->k) : "-");
  return texts;
}

/// What stands before the figures: the places where they are short, else numbers.
std::vector<std::string> first_cells(const Lines& lines, bool numbered) {
  std::vector<std::string> cells;
  for (std::size_t i = 0; i < lines.size(); ++i)
    cells.push_back(numbered ? fmt::format("{}", i + 1) : place_of(*lines[i]));
  return cells;
}

bool has_long_place(const Lines& lines) {
  return std::any_of(lines.begin(), lines.end(), [](const ProofLineView* line) {
    return columns_of(place_of(*line)) > kLongestPlace;
  });
}

Table figures_table(const ProofView& view, const Lines& lines, bool numbered) {
  const auto first = first_cells(lines, numbered);
  const auto loads = mass_figures(view, column_of(lines, [](auto& l) { return l.load_kg; }));
  const auto shown = mass_figures(view, column_of(lines, [](auto& l) { return l.indication_kg; }));
  const auto errors =
      mass_figures(view, column_of(lines, [](auto& l) { return l.error_kg; }), true);
  const auto limits = mass_figures(view, column_of(lines, [](auto& l) { return l.limit_kg; }));
  const auto expanded = uncertainty_figures(view, column_of(lines, [](auto& l) { return l.U_kg; }));
  const auto k = factors(lines);
  Table table;
  table.heading = {numbered ? "" : "where", "load", "shown", "error", "limit", "U", "k", "verdict"};
  for (std::size_t i = 0; i < lines.size(); ++i) {
    table.rows.push_back({first[i], loads[i], shown[i], errors[i], limits[i], expanded[i], k[i],
                          sure_word(*lines[i])});
  }
  return table;
}

/// Clauses of a test once; lines of one test nearly always share them.
std::string clauses_of(const Lines& lines) {
  std::vector<std::string> clauses;
  for (const ProofLineView* line : lines) {
    if (!line->clause.empty() &&
        std::find(clauses.begin(), clauses.end(), line->clause) == clauses.end())
      clauses.push_back(line->clause);
  }
  std::string text;
  for (const std::string& clause : clauses) text += (text.empty() ? "" : "; ") + clause;
  return text;
}

std::string test_text(const ProofView& view, const Lines& lines) {
  const ProofLineView& first = *lines.front();
  std::string title = first.run > 1 ? fmt::format("{}, run {}", first.name, first.run) : first.name;
  const std::string clauses = clauses_of(lines);
  if (!clauses.empty()) title += " (" + clauses + ")";
  const bool rounded = std::none_of(
      lines.begin(), lines.end(), [](const ProofLineView* line) { return line->before_rounding; });
  title += fmt::format(", {}{}", mass_unit(view), rounded ? "" : ", errors before rounding");
  const bool numbered = has_long_place(lines);
  std::string text = '\n' + wrap(title, kWidth, "", "  ");
  text += draw_text(figures_table(view, lines, numbered));
  for (std::size_t i = 0; numbered && i < lines.size(); ++i) {
    if (!place_of(*lines[i]).empty())
      text += wrap(place_of(*lines[i]), kWidth, fmt::format("    {}: ", i + 1), "       ");
  }
  const bool inside = std::any_of(lines.begin(), lines.end(), [](const ProofLineView* line) {
    return line->verdict == "not_accepted";
  });
  if (inside) text += wrap(kInsideBand, kWidth, "  ", "    ");
  return text;
}

std::string lines_text(const ProofView& view) {
  std::string text;
  for (std::size_t begin = 0; begin < view.lines.size();) {
    Lines lines;
    std::size_t end = begin;
    for (; end < view.lines.size() && view.lines[end].check == view.lines[begin].check &&
           view.lines[end].run == view.lines[begin].run;
         ++end)
      lines.push_back(&view.lines[end]);
    text += test_text(view, lines);
    begin = end;
  }
  return text;
}

std::string range_sentence(const ProofView& view, const ProofRangeView& range) {
  std::string what = range.name;
  if (!range.where.empty()) what += ", " + range.where;
  if (range.load_kg > 0.0)
    what += fmt::format(" at {} {}", mass_figure(view, range.load_kg), mass_unit(view));
  if (range.count > 0) what += fmt::format(" ({} results)", range.count);
  std::string sentence =
      fmt::format("{}: {} {}, {} {} {}: {}", what, mass_figure(view, range.value_kg),
                  mass_unit(view), range.at_least ? "at least" : "at most",
                  mass_figure(view, range.limit_kg), mass_unit(view), verdict_word(range.verdict));
  if (!range.clause.empty()) sentence += " [" + range.clause + "]";
  return sentence;
}

std::string ranges_text(const ProofView& view) {
  std::string text;
  for (const ProofRangeView& range : view.ranges)
    text += wrap(range_sentence(view, range), kWidth, "  - ", "    ");
  return text.empty() ? "" : "\nAgreement, zero, discrimination\n" + text;
}

std::string with_clause(const std::string& sentence, const std::string& clause) {
  return clause.empty() ? sentence : sentence + " [" + clause + "]";
}

std::string open_text(const ProofView& view) {
  std::string text;
  for (const ProofMissingView& missing : view.missing)
    text += wrap(with_clause(missing.sentence, missing.clause), kWidth, "  MISSING: ", "    ");
  for (const ProofFindingView& finding : view.findings) {
    text += wrap(with_clause(finding.sentence, finding.clause), kWidth,
                 finding.blocks ? "  WRONG: " : "  ? ", "    ");
  }
  return text.empty() ? "" : '\n' + text;
}

std::string not_part_text(const ProofView& view) {
  std::string text;
  for (const NotPartView& one : view.not_part)
    text += wrap(with_clause(one.sentence, one.clause), kWidth, "  - ", "    ");
  return text.empty() ? "" : "\nNo part of this test\n" + text;
}

Table terms_table(const ProofView& view, const ProofLineView& line) {
  Column column;
  for (const ProofTermView& term : line.terms) column.emplace_back(term.u_kg);
  const auto figures = uncertainty_figures(view, column);
  Table table;
  table.heading = {"contribution", fmt::format("u, {}", mass_unit(view)), "share"};
  for (std::size_t i = 0; i < line.terms.size(); ++i) {
    table.rows.push_back(
        {line.terms[i].name, figures[i], fmt::format("{:.0f} %", 100.0 * line.terms[i].share)});
  }
  return table;
}

std::string uncertainty_text(const ProofView& view) {
  std::string text;
  if (const ProofLineView* const line = leading_line(view)) {
    std::string title = fmt::format("Uncertainty of the line nearest its limit: {}, {} {}",
                                    line->name, mass_figure(view, line->load_kg), mass_unit(view));
    if (!place_of(*line).empty()) title += ", " + place_of(*line);
    text += wrap(title, kWidth, "", "  ") + draw_text(terms_table(view, *line));
    if (!line->attack.empty()) text += wrap(line->attack, kWidth, "  -> ", "     ");
  }
  if (!view.uncertainty.empty()) text += wrap(view.uncertainty, kWidth, "  ", "  ");
  if (!view.sampled.empty()) text += wrap(view.sampled, kWidth, "  ", "  ");
  if (!view.decision_rule.empty()) text += wrap(view.decision_rule, kWidth, "  ", "  ");
  return text.empty() ? "" : '\n' + text;
}

std::string standard_sentence(const ProofView& view, const StandardView& standard) {
  std::string text = fmt::format("{}: {} x {} {}", standard.id, standard.count,
                                 mass_figure(view, standard.nominal_kg), mass_unit(view));
  if (!standard.weight_class.empty()) text += ", class " + standard.weight_class;
  text +=
      standard.certificate.empty() ? ", no certificate" : ", certificate " + standard.certificate;
  if (!standard.expires.empty()) text += " to " + standard.expires;
  if (!standard.traced_to.empty()) text += ", traced to " + standard.traced_to;
  return standard.refused.empty() ? text : text + ". MAY NOT SERVE: " + standard.refused;
}

std::string standards_text(const ProofView& view) {
  std::string text;
  for (const StandardView& standard : view.standards)
    text += wrap(standard_sentence(view, standard), kWidth, "  - ", "    ");
  return text.empty() ? "" : "\nStandards\n" + text;
}

std::string chances_text(const ProofView& view) {
  if (view.chances.empty()) return "";
  Column loads, limits, errors, us;
  for (const ChanceView& chance : view.chances) {
    loads.emplace_back(chance.load_kg);
    limits.emplace_back(chance.limit_kg);
    errors.emplace_back(chance.expected_error_kg);
    us.emplace_back(chance.u_kg);
  }
  const auto load = mass_figures(view, loads);
  const auto limit = mass_figures(view, limits);
  const auto error = mass_figures(view, errors, true);
  const auto u = uncertainty_figures(view, us);
  Table table;
  table.heading = {"check", "load", "limit", "expected", "u", "passes"};
  for (std::size_t i = 0; i < view.chances.size(); ++i) {
    const ChanceView& chance = view.chances[i];
    table.rows.push_back(
        {chance.check, load[i], limit[i], error[i], u[i],
         std::isfinite(chance.p_pass) ? fmt::format("{:.1f} %", 100.0 * chance.p_pass) : "-"});
  }
  return fmt::format("\nBefore the test, {}\n", mass_unit(view)) + draw_text(table);
}

std::string head_text(const ProofView& view) {
  std::string text = wrap("Test: " + view.deck_name, kWidth, "", "  ");
  text += wrap(view.headline, kWidth, "", "  ");
  std::string rules = view.rulebook;
  if (!view.accuracy_class.empty()) rules += ", class " + view.accuracy_class;
  rules += fmt::format(", {} = {} {}, Max {} {}", view.division.empty() ? "e" : view.division,
                       mass_figure(view, view.interval_kg), mass_unit(view),
                       mass_figure(view, view.capacity_kg), mass_unit(view));
  if (!view.ranges_say.empty()) rules += " (" + view.ranges_say + ")";
  if (!view.phase.empty()) rules += view.phase == "as_found" ? "; as found" : "; as left";
  text += wrap(rules + ". " + view.occasion_says, kWidth, "", "  ");
  if (!view.rulebook_remark.empty()) text += wrap(view.rulebook_remark, kWidth, "", "  ");
  if (!view.began.empty()) {
    const bool one = view.began == view.ended;
    text += "Tested " + view.began + (one ? "" : " to " + view.ended) + "\n";
  }
  return text;
}

}  // namespace

std::string draw_text(const ProofView& view) {
  std::string text = head_text(view);
  text += open_text(view);
  text += chances_text(view);
  text += lines_text(view);
  text += ranges_text(view);
  text += not_part_text(view);
  text += uncertainty_text(view);
  text += standards_text(view);
  if (!view.rules_says.empty()) text += '\n' + wrap(view.rules_says, kWidth, "", "  ");
  if (!view.unverified.empty()) {
    text += "\nRests on values from memory, unverified\n";
    for (const std::string& clause : view.unverified) text += wrap(clause, kWidth, "  - ", "    ");
  }
  if (!view.assumed.empty())
    text += '\n' + assumed_text(view.assumed, static_cast<int>(view.assumed.size()));
  return text;
}

}  // namespace weighwright::report
