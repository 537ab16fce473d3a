#include "report/paper/evidence_part.h"

#include <fmt/format.h>

#include <cmath>
#include <cstddef>

#include "report/paper/paper_table.h"
#include "report/paper/rules_part.h"

namespace weighwright::report {
namespace {

constexpr const char* kNone = "\u2013";

/// The state that the report ends with speaks for its evidence.
const ProofView* main_proof(const DocumentView& view) {
  if (view.as_left) return &*view.as_left;
  return view.as_found ? &*view.as_found : nullptr;
}

std::string or_none(const std::string& text) {
  return text.empty() ? kNone : text;
}

std::string with_unit(const ProofView& proof, const std::string& figure) {
  return typeset(figure, proof.us) + "\u00a0" + mass_unit(proof);
}

PaperRow standard_row(const ProofView& proof, const StandardView& standard) {
  const auto exact = [&proof](const std::optional<double>& value_kg) {
    // A certificate's digits are finer than the display's; grams are kept.
    if (!value_kg) return std::string(kNone);
    ProofView fine;
    fine.us = proof.us;
    fine.interval_kg = 0.01;
    return typeset(mass_figure(fine, *value_kg), proof.us);
  };
  return {.kind = PaperRow::Kind::cells,
          .cells = {standard.id,
                    fmt::format("{} \u00d7 {}", standard.count, exact(standard.nominal_kg)),
                    or_none(standard.weight_class), exact(standard.conventional_kg),
                    exact(standard.U_kg), or_none(standard.certificate), or_none(standard.expires),
                    or_none(standard.traced_to)}};
}

void draw_standards(Sheet& sheet, const DocumentView& view) {
  const ProofView* const proof = main_proof(view);
  if (proof == nullptr || proof->standards.empty()) return;
  const Phrases& words = sheet.words();
  const std::string unit = mass_unit(*proof);
  PaperTable table;
  table.columns = {{.head = words.standard},
                   {.head = words.nominal, .unit = unit, .align = Align::right},
                   {.head = words.weight_class},
                   {.head = words.conventional, .unit = unit, .align = Align::right},
                   {.head = words.expanded, .unit = unit, .align = Align::right},
                   {.head = words.certificate, .align = Align::left, .stretch = true},
                   {.head = words.valid_to},
                   {.head = words.traced_to, .align = Align::left, .stretch = true}};
  for (const StandardView& standard : proof->standards) {
    table.rows.push_back(standard_row(*proof, standard));
    if (!standard.refused.empty())
      table.rows.push_back({.kind = PaperRow::Kind::note,
                            .cells = {fmt::format("{}: {}", words.not_used, standard.refused)}});
  }
  sheet.heading(words.standards, 50.0);
  draw_table(sheet, table);
}

void draw_traceability(Sheet& sheet, const DocumentView& view) {
  if (view.traceability.empty()) return;
  sheet.subheading(sheet.words().traceability);
  for (const std::string& sentence : view.traceability) {
    if (!sentence.empty()) sheet.paragraph(sentence);
  }
}

void draw_environment(Sheet& sheet, const EnvironmentView& around) {
  const Phrases& words = sheet.words();
  const std::vector<Fact> facts = {
      {words.temperature, around.temperature}, {words.humidity, around.humidity},
      {words.pressure, around.pressure},       {words.air_density, around.air_density},
      {words.weather, around.weather},         {words.gravity, around.gravity}};
  const double height = sheet.facts_height(facts, 3);
  if (height == 0.0) return;
  sheet.heading(words.environment, height);
  sheet.facts(facts, 3);
}

PaperTable budget_table(const ProofView& proof, const ProofLineView& line, const Phrases& words) {
  std::vector<std::optional<double>> column;
  for (const ProofTermView& term : line.terms) column.emplace_back(term.u_kg);
  const auto figures = uncertainty_figures(proof, column);
  PaperTable table;
  table.columns = {{.head = words.contribution, .align = Align::left, .stretch = true},
                   {.head = words.standard_u, .unit = mass_unit(proof), .align = Align::right},
                   {.head = words.share, .unit = "%", .align = Align::right},
                   {.head = words.source, .align = Align::left, .stretch = true}};
  for (std::size_t i = 0; i < line.terms.size(); ++i) {
    const ProofTermView& term = line.terms[i];
    table.rows.push_back({.kind = PaperRow::Kind::cells,
                          .cells = {term.name, typeset(figures[i], proof.us),
                                    fmt::format("{:.1f}", 100.0 * term.share), term.source}});
  }
  return table;
}

/// k is interpolated between whole degrees of freedom (JCGM 100:2008, G.4.1); where few make it
/// change fast a decimal is printed, so that it can be followed.
std::string freedom_text(const std::optional<double>& dof, const Phrases& words) {
  constexpr double kFew = 9.95;  // prints as 10 by either form
  if (!dof || !std::isfinite(*dof)) return words.dof_infinite;
  return fmt::format("{:.{}f}", *dof, *dof < kFew ? 1 : 0);
}

std::string expanded_sentence(const ProofView& proof,
                              const ProofLineView& line,
                              const Phrases& words) {
  if (!line.U_kg || !line.k) return "";
  std::string text = fmt::format(fmt::runtime(words.expanded_line),
                                 with_unit(proof, uncertainty_figures(proof, {line.U_kg}).front()),
                                 fmt::format("{:.2f}", *line.k));
  text += fmt::format(fmt::runtime(words.dof_line), freedom_text(line.dof, words));
  return text + ".";
}

void draw_uncertainty(Sheet& sheet, const ProofView& proof) {
  const Phrases& words = sheet.words();
  const ProofLineView* const line = leading_line(proof);
  if (line == nullptr && proof.uncertainty.empty() && proof.sampled.empty()) return;
  sheet.heading(words.uncertainty);
  if (!proof.uncertainty.empty()) sheet.paragraph(proof.uncertainty);
  if (proof.s_kg)
    sheet.paragraph(
        fmt::format(fmt::runtime(words.pooled),
                    with_unit(proof, uncertainty_figures(proof, {proof.s_kg}).front())));
  if (line != nullptr) {
    std::string name = line->name;
    if (!line->where.empty()) name += ", " + line->where;
    sheet.subheading(fmt::format(fmt::runtime(words.budget_of), name,
                                 with_unit(proof, mass_figure(proof, line->load_kg))),
                     60.0);
    draw_table(sheet, budget_table(proof, *line, words));
    const std::string expanded = expanded_sentence(proof, *line, words);
    if (!expanded.empty()) sheet.paragraph(expanded);
  }
  if (!proof.sampled.empty()) sheet.paragraph(proof.sampled);
}

void draw_rule(Sheet& sheet, const ProofView& proof) {
  const Phrases& words = sheet.words();
  if (!proof.decision_rule.empty()) {
    sheet.heading(words.decision_rule);
    sheet.paragraph(proof.decision_rule);
  }
  if (proof.assumed.empty()) return;
  sheet.subheading(words.assumed);
  std::vector<std::string> assumed;
  for (const deck::Assumed& one : proof.assumed) assumed.push_back(one.key + " = " + one.value);
  sheet.list(assumed);
}

}  // namespace

void draw_evidence(Sheet& sheet, const DocumentView& view) {
  draw_standards(sheet, view);
  draw_traceability(sheet, view);
  draw_environment(sheet, view.environment);
  const ProofView* const proof = main_proof(view);
  if (proof == nullptr) return;
  draw_uncertainty(sheet, *proof);
  draw_rule(sheet, *proof);
  if (view.rules) draw_rules(sheet, *view.rules);
}

}  // namespace weighwright::report
