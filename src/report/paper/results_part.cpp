#include "report/paper/results_part.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "report/paper/error_chart.h"
#include "report/paper/paper_table.h"

namespace weighwright::report {
namespace {

using Column = std::vector<std::optional<double>>;
using Lines = std::vector<ProofLineView>;

constexpr const char* kNone = "\u2013";

std::string set(const std::string& figure, const ProofView& proof) {
  return figure == "-" ? kNone : typeset(figure, proof.us);
}

std::string verdict_word(const std::string& verdict, const Phrases& words) {
  if (verdict == "pass") return words.pass;
  return verdict == "fail" ? words.fail : words.not_judged;
}

std::string verdict_word(const ProofLineView& line, const Phrases& words) {
  if (line.verdict == "not_judged") return words.not_judged;
  if (line.sure == "conditional_pass") return words.conditional_pass;
  if (line.sure == "conditional_fail") return words.conditional_fail;
  if (line.verdict == "not_accepted") return words.not_accepted;
  return verdict_word(line.verdict, words);
}

std::string place_of(const ProofLineView& line) {
  if (line.material.empty()) return line.where;
  return line.where.empty() ? line.material : line.where + ", " + line.material;
}

/// The figures of a column, over all tests: they are read one under another.
struct Figures {
  std::vector<std::string> load, indication, added, zero, start, error, limit, expanded;
};

template <typename Get>
Column column_of(const Lines& lines, Get get) {
  Column column;
  for (const ProofLineView& line : lines) column.push_back(get(line));
  return column;
}

Figures make_figures(const ProofView& proof) {
  using Line = const ProofLineView&;
  const auto figures = [&proof](auto get, bool plus = false) {
    return mass_figures(proof, column_of(proof.lines, get), plus);
  };
  return {
      .load = figures([](Line line) { return std::optional<double>(line.load_kg); }),
      .indication = figures([](Line line) { return std::optional<double>(line.indication_kg); }),
      .added = figures([](Line line) { return line.added_kg; }),
      .zero = figures([](Line line) { return line.zero_kg; }),
      .start = figures([](Line line) { return line.start_kg; }),
      .error = figures([](Line line) { return std::optional<double>(line.error_kg); }, true),
      .limit = figures([](Line line) { return line.limit_kg; }),
      .expanded =
          uncertainty_figures(proof, column_of(proof.lines, [](Line line) { return line.U_kg; }))};
}

/// Columns that not every test has.
struct Told {
  bool added = false;
  bool zero = false;
  bool start = false;
  bool chance = false;
};

Told told_by(const ProofView& proof) {
  Told told;
  for (const ProofLineView& line : proof.lines) {
    told.added = told.added || line.added_kg.has_value();
    told.zero = told.zero || line.zero_kg.has_value();
    told.start = told.start || line.start_kg.has_value();
    told.chance = told.chance || line.p_conforming.has_value();
  }
  return told;
}

std::string factor_text(const std::optional<double>& k) {
  return k && std::isfinite(*k) ? fmt::format("{:.2f}", *k) : kNone;
}

/// Never rounded up to certainty.
std::string percent_text(const std::optional<double>& chance) {
  if (!chance || !std::isfinite(*chance)) return kNone;
  const double percent = 100.0 * *chance;
  if (percent > 99.9) return "> 99.9";
  return percent < 0.1 ? "< 0.1" : fmt::format("{:.1f}", percent);
}

std::vector<PaperColumn> result_columns(const ProofView& proof,
                                        const Phrases& words,
                                        const Told& told) {
  const std::string unit = mass_unit(proof);
  std::vector<PaperColumn> columns = {{.head = words.where, .align = Align::left, .stretch = true}};
  const auto add = [&](const char* head, const std::string& below) {
    columns.push_back({.head = head, .unit = below, .align = Align::right});
  };
  add(words.load, unit);
  add(words.indication, unit);
  if (told.added) add(words.added, unit);
  if (told.zero) add(words.zero, unit);
  if (told.start) add(words.start, unit);
  add(words.error, unit);
  add(words.limit, "\u00b1 " + unit);
  add(words.expanded, unit);
  add(words.factor, "");
  if (told.chance) add(words.within, "%");
  columns.push_back({.head = words.verdict, .align = Align::left});
  return columns;
}

/// The one division of all readings with small weights; empty: they differ, or there are none.
std::optional<double> shared_division(const ProofView& proof) {
  std::optional<double> shared;
  for (const ProofLineView& line : proof.lines) {
    if (!line.added_kg) continue;
    if (shared && *shared != line.division_kg) return {};
    shared = line.division_kg;
  }
  return shared;
}

/// How an error comes from the columns beside it.
std::string error_words(const ProofView& proof, const Told& told, const Phrases& words) {
  if (!told.zero && !told.added && !told.start) return "";
  const std::string start = told.start ? " \u2212 " + std::string(words.start) : "";
  std::string says = fmt::format(fmt::runtime(words.error_is), start);
  if (!told.added) return says + " ";
  const auto division = shared_division(proof);
  says += division ? fmt::format(fmt::runtime(words.before_is), mass_figure(proof, *division),
                                 mass_unit(proof))
                   : words.before_is_any;
  return says + " ";
}

/// What the short heads stand for.
void draw_column_words(Sheet& sheet, const ProofView& proof) {
  if (proof.lines.empty()) return;
  const Phrases& words = sheet.words();
  const Told told = told_by(proof);
  std::string says = error_words(proof, told, words) +
                     fmt::format(fmt::runtime(words.columns_say), mass_unit(proof));
  if (told.chance) says += words.columns_say_within;
  sheet.paragraph(says, kSmall);
  if (proof.counts.not_accepted > 0) sheet.paragraph(words.inside_band, kSmall);
}

bool same_test(const ProofLineView& a, const ProofLineView& b) {
  return a.check == b.check && a.run == b.run;
}

/// Clause of all lines of a test; empty where they differ.
std::string shared_clause(const Lines& lines, std::size_t begin, std::size_t end) {
  for (std::size_t i = begin; i < end; ++i) {
    if (lines[i].clause != lines[begin].clause) return "";
  }
  return lines[begin].clause;
}

PaperRow group_row(const ProofView& proof,
                   std::size_t begin,
                   std::size_t end,
                   const std::string& clause,
                   const Phrases& words) {
  const ProofLineView& first = proof.lines[begin];
  std::string name = first.name;
  if (first.run > 1) name += ", " + fmt::format(fmt::runtime(words.run), first.run);
  bool before = false;
  for (std::size_t i = begin; i < end; ++i) before = before || proof.lines[i].before_rounding;
  if (before) name += fmt::format(", {}", words.before_rounding);
  return {.kind = PaperRow::Kind::group, .cells = {name, clause}};
}

PaperRow result_row(const ProofView& proof,
                    const Figures& figures,
                    std::size_t i,
                    const Told& told,
                    const Phrases& words) {
  const ProofLineView& line = proof.lines[i];
  PaperRow row;
  row.cells = {place_of(line), set(figures.load[i], proof), set(figures.indication[i], proof)};
  if (told.added) row.cells.push_back(set(figures.added[i], proof));
  if (told.zero) row.cells.push_back(set(figures.zero[i], proof));
  if (told.start) row.cells.push_back(set(figures.start[i], proof));
  row.cells.insert(row.cells.end(), {set(figures.error[i], proof), set(figures.limit[i], proof),
                                     set(figures.expanded[i], proof), factor_text(line.k)});
  if (told.chance) row.cells.push_back(percent_text(line.p_conforming));
  row.cells.push_back(verdict_word(line, words));
  row.strong = line.verdict == "fail" || line.verdict == "conditional_fail";
  return row;
}

PaperTable result_table(const ProofView& proof, const Phrases& words) {
  const Lines& lines = proof.lines;
  const Told told = told_by(proof);
  const Figures figures = make_figures(proof);
  PaperTable table{.columns = result_columns(proof, words, told), .rows = {}};
  for (std::size_t begin = 0; begin < lines.size();) {
    std::size_t end = begin + 1;
    while (end < lines.size() && same_test(lines[begin], lines[end])) ++end;
    const std::string clause = shared_clause(lines, begin, end);
    table.rows.push_back(group_row(proof, begin, end, clause, words));
    for (std::size_t i = begin; i < end; ++i) {
      table.rows.push_back(result_row(proof, figures, i, told, words));
      if (clause.empty() && !lines[i].clause.empty())
        table.rows.push_back({.kind = PaperRow::Kind::note, .cells = {lines[i].clause}});
    }
    begin = end;
  }
  return table;
}

PaperRow range_row(const ProofView& proof, const ProofRangeView& range, const Phrases& words) {
  std::string name = range.name;
  if (!range.where.empty()) name += ", " + range.where;
  if (range.count > 0) name += fmt::format(fmt::runtime(words.results_compared), range.count);
  return {
      .kind = PaperRow::Kind::cells,
      .cells = {name, range.load_kg > 0.0 ? set(mass_figure(proof, range.load_kg), proof) : kNone,
                set(mass_figure(proof, range.value_kg), proof),
                fmt::format("{} {}", range.at_least ? words.at_least : words.at_most,
                            set(mass_figure(proof, range.limit_kg), proof)),
                range.clause, verdict_word(range.verdict, words)},
      .strong = range.verdict == "fail"};
}

/// "30002; 30004; 30001; s = 1.5 kg", with what each was computed from where that is more than the
/// indication.
std::string repeats_text(const ProofView& proof,
                         const ProofRangeView& range,
                         const Phrases& words) {
  const auto figure = [&proof](double kg) { return set(mass_figure(proof, kg), proof); };
  std::string list;
  for (std::size_t i = 0; i < range.repeats.size(); ++i) {
    const ProofRepeatView& one = range.repeats[i];
    const std::string added =
        one.added_kg ? fmt::format(", {} {}", words.added, figure(*one.added_kg)) : "";
    const bool plain = !one.added_kg && one.zero_kg == 0.0;
    list += (list.empty() ? "" : "; ") +
            (plain ? figure(one.result_kg)
                   : fmt::format(fmt::runtime(words.weighing), i + 1, figure(one.indication_kg),
                                 added, figure(one.zero_kg), figure(one.result_kg)));
  }
  std::string text = fmt::format(fmt::runtime(words.weighings), list);
  if (range.s_kg) {
    const std::string s = set(uncertainty_figures(proof, {range.s_kg}).front(), proof);
    text += "; " + fmt::format(fmt::runtime(words.s_line), s + " " + mass_unit(proof));
  }
  return text;
}

void draw_agreement(Sheet& sheet, const ProofView& proof) {
  if (proof.ranges.empty()) return;
  const Phrases& words = sheet.words();
  const std::string unit = mass_unit(proof);
  PaperTable table;
  table.columns = {{.head = words.result, .align = Align::left, .stretch = true},
                   {.head = words.load, .unit = unit, .align = Align::right},
                   {.head = words.value, .unit = unit, .align = Align::right},
                   {.head = words.limit, .unit = unit, .align = Align::right},
                   {.head = words.clause, .align = Align::left, .stretch = true},
                   {.head = words.verdict, .align = Align::left}};
  for (const ProofRangeView& range : proof.ranges) {
    table.rows.push_back(range_row(proof, range, words));
    if (!range.repeats.empty())
      table.rows.push_back(
          {.kind = PaperRow::Kind::note, .cells = {repeats_text(proof, range, words)}});
  }
  sheet.subheading(words.agreement, 50.0);
  draw_table(sheet, table);
}

void draw_substitutes(Sheet& sheet, const ProofView& proof) {
  if (proof.substitutes.empty()) return;
  const Phrases& words = sheet.words();
  std::vector<std::string> list;
  for (const ProofSubstituteView& one : proof.substitutes) {
    list.push_back(fmt::format(fmt::runtime(words.substitute), one.name,
                               set(mass_figure(proof, one.mass_kg), proof), mass_unit(proof),
                               set(uncertainty_figures(proof, {one.u_kg}).front(), proof),
                               mass_unit(proof)));
  }
  sheet.subheading(words.substitutes);
  sheet.list(list);
}

std::string with_clause(const std::string& sentence, const std::string& clause) {
  return clause.empty() ? sentence : fmt::format("{} [{}]", sentence, clause);
}

void draw_open(Sheet& sheet, const ProofView& proof) {
  const Phrases& words = sheet.words();
  std::vector<std::string> missing;
  std::vector<std::string> findings;
  for (const ProofMissingView& one : proof.missing)
    missing.push_back(with_clause(one.sentence, one.clause));
  for (const ProofFindingView& one : proof.findings)
    findings.push_back((one.blocks ? words.blocks : "") + with_clause(one.sentence, one.clause));
  if (!missing.empty()) sheet.subheading(words.missing);
  sheet.list(missing);
  if (!findings.empty()) sheet.subheading(words.findings);
  sheet.list(findings);
  std::vector<std::string> not_part;
  for (const NotPartView& one : proof.not_part)
    not_part.push_back(with_clause(one.sentence, one.clause));
  if (!not_part.empty()) sheet.subheading(words.not_part);
  sheet.list(not_part);
}

}  // namespace

void draw_results(Sheet& sheet, const ProofView& proof, const std::string& title) {
  const Phrases& words = sheet.words();
  sheet.heading(title, 70.0);
  std::string rules =
      fmt::format(fmt::runtime(words.rules_line), proof.rulebook, proof.accuracy_class);
  if (!proof.occasion_says.empty()) rules += ". " + proof.occasion_says;
  sheet.paragraph(rules);
  if (!proof.rulebook_remark.empty()) sheet.paragraph(proof.rulebook_remark);
  sheet.skip(2.0);
  draw_table(sheet, result_table(proof, words));
  draw_column_words(sheet, proof);
  draw_substitutes(sheet, proof);
  draw_agreement(sheet, proof);
  draw_open(sheet, proof);
  const bool judged = proof.outcome == "pass" || proof.outcome == "fail";
  if (judged && !proof.lines.empty() && proof.p_all > 0.0)
    sheet.paragraph(fmt::format(fmt::runtime(words.all_conform), percent_text(proof.p_all)),
                    kSmall);
}

void draw_errors(Sheet& sheet, const DocumentView& view) {
  const ChartOf what{.found = view.as_found ? &*view.as_found : nullptr,
                     .left = view.as_left ? &*view.as_left : nullptr};
  if (!can_chart(what)) return;
  constexpr double kHeight = 82.0 * kPerMm;
  sheet.heading(sheet.words().chart, kHeight + 20.0);
  draw_chart(sheet.canvas(), {sheet.left(), sheet.y(), sheet.width(), kHeight}, what,
             sheet.words());
  sheet.skip(kHeight + 2.0);
  sheet.paragraph(sheet.words().chart_caption, kSmall);
}

}  // namespace weighwright::report
