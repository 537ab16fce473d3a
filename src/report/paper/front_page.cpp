#include "report/paper/front_page.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/paper/deck_drawing.h"
#include "report/paper/excerpt.h"
#include "report/paper/paper_table.h"
#include "units/quantity.h"

namespace weighwright::report {
namespace {

constexpr TextStyle kTitle{.size = 19.0, .bold = true, .ink = kAccent};
constexpr TextStyle kNumber{.size = 11.0};
constexpr TextStyle kOutcome{.size = 13.0, .bold = true};
constexpr double kPad = 3.5 * kPerMm;

std::string lines_of(const PartyView& party) {
  std::string text = party.name;
  for (const std::string& line : party.address) text += '\n' + line;
  if (!party.country.empty()) text += '\n' + party.country;
  if (!party.contact.empty()) text += '\n' + party.contact;
  return text;
}

std::string days(const DocumentView& view, const Phrases& words) {
  if (view.ended.empty() || view.ended == view.began) return view.began;
  return fmt::format("{} {} {}", view.began, words.to, view.ended);
}

std::string capacity_line(const ProofView& proof, const Phrases& words) {
  const auto figure = [&proof](double value_kg) {
    return typeset(mass_figure(proof, value_kg), proof.us) + " " + mass_unit(proof);
  };
  return fmt::format(fmt::runtime(words.max_line), figure(proof.capacity_kg),
                     proof.division.empty() ? "e" : proof.division, figure(proof.interval_kg));
}

const ProofView* any_proof(const DocumentView& view) {
  if (view.as_left) return &*view.as_left;
  return view.as_found ? &*view.as_found : nullptr;
}

void draw_title(Sheet& sheet, const DocumentView& view) {
  Canvas& canvas = sheet.canvas();
  sheet.skip(
      canvas.paragraph({sheet.left(), sheet.y()}, sheet.width(), one_line(view.title), kTitle) +
      1.0);
  if (!view.number.empty()) {
    sheet.skip(canvas.paragraph({sheet.left(), sheet.y()}, sheet.width(),
                                fmt::format("{} {}", sheet.words().number, one_line(view.number)),
                                kNumber));
  }
  if (!view.replaces.empty())
    sheet.paragraph(fmt::format("{} {}", sheet.words().replaces, view.replaces));
  sheet.skip(7.0);
}

void draw_parties(Sheet& sheet, const DocumentView& view) {
  const Phrases& words = sheet.words();
  std::vector<Fact> parties;
  if (view.laboratory) parties.emplace_back(words.laboratory, lines_of(*view.laboratory));
  if (view.customer) parties.emplace_back(words.customer, lines_of(*view.customer));
  if (view.accreditation)
    parties.emplace_back(words.accreditation,
                         view.accreditation->body + '\n' + view.accreditation->number);
  if (parties.empty()) return;
  sheet.hairline();
  sheet.skip(4.0);
  sheet.facts(parties, std::max(2, static_cast<int>(parties.size())));
}

bool told(const DocumentView& view, const std::string& value) {
  return std::any_of(view.item.begin(), view.item.end(),
                     [&value](const Fact& fact) { return fact.second == value; });
}

std::vector<Fact> item_facts(const DocumentView& view, const Phrases& words) {
  std::vector<Fact> facts;
  const ProofView* const proof = any_proof(view);
  if (proof != nullptr) {
    facts.emplace_back(words.item, proof->deck_name);
    facts.emplace_back(words.rules, proof->rulebook);
    facts.emplace_back(words.accuracy_class, proof->accuracy_class);
    facts.emplace_back(words.range, capacity_line(*proof, words));
  }
  // What `item` lists already is not told twice.
  for (const Fact& fact : {Fact{words.maker, view.maker}, Fact{words.model, view.model},
                           Fact{words.serial, view.serial}, Fact{words.approval, view.approval}}) {
    if (!told(view, fact.second)) facts.push_back(fact);
  }
  facts.insert(facts.end(), view.item.begin(), view.item.end());
  facts.emplace_back(words.condition, view.condition);
  return facts;
}

std::string cells_line(const DocumentView& view) {
  std::string text;
  for (const auto& [stand, serial] : view.cells)
    text += (text.empty() ? "" : "   ") + stand + "\u00a0" + serial;
  return text;
}

void draw_item(Sheet& sheet, const DocumentView& view) {
  const Phrases& words = sheet.words();
  sheet.hairline();
  sheet.skip(4.0);
  sheet.facts(item_facts(view, words), 3);
  sheet.facts({{words.cells, cells_line(view)}}, 1);
  sheet.hairline();
  sheet.skip(4.0);
  std::string place = view.place;
  for (const std::string& line : view.place_address) place += '\n' + line;
  sheet.facts({{words.place, place},
               {words.performed, days(view, words)},
               {words.issued, view.issued},
               {words.received, view.received}},
              3);
  sheet.facts({{words.method, view.method}}, 1);
}

std::string outcome_word(const std::string& outcome, const Phrases& words) {
  if (outcome == "pass") return words.outcome_pass;
  if (outcome == "fail") return words.outcome_fail;
  if (outcome == "conditional_pass") return words.outcome_conditional_pass;
  if (outcome == "conditional_fail") return words.outcome_conditional_fail;
  if (outcome == "not_accepted") return words.outcome_not_accepted;
  return outcome == "refused" ? words.outcome_refused : words.outcome_incomplete;
}

struct OutcomeRow {
  std::string phase;
  std::string word;
  std::string says;
};

std::vector<OutcomeRow> outcome_rows(const DocumentView& view, const Phrases& words) {
  std::vector<OutcomeRow> rows;
  const bool unchanged = !view.adjusted && view.as_left.has_value();
  const auto add = [&](const char* phase, const std::optional<ProofView>& proof) {
    if (proof) {
      const std::string occasion = proof->occasion_says.empty() ? "" : '\n' + proof->occasion_says;
      rows.push_back({phase, outcome_word(proof->outcome, words),
                      excerpt(proof->headline + occasion, kMostFact, words.more)});
    } else {
      rows.push_back({phase, "\u2013", unchanged ? words.not_adjusted : words.not_tested});
    }
  };
  add(words.as_found, view.as_found);
  add(words.as_left, view.as_left);
  return rows;
}

/// Three columns in a frame: which state, the word, what it means.
void draw_outcome(Sheet& sheet, const DocumentView& view) {
  Canvas& canvas = sheet.canvas();
  const auto rows = outcome_rows(view, sheet.words());
  double word_width = 0.0;
  for (const OutcomeRow& row : rows)
    word_width = std::max(word_width, canvas.width_of(row.word, kOutcome));
  const double phase_x = sheet.left() + kPad;
  const double word_x = phase_x + 22.0 * kPerMm;
  const double says_x = word_x + word_width + 7.0 * kPerMm;
  const double says_width = sheet.left() + sheet.width() - kPad - says_x;
  double height = 2.0 * kPad + 8.0;
  for (const OutcomeRow& row : rows)
    height += std::max(19.0, canvas.height_of(says_width, row.says, kBody) + 5.0);
  sheet.need(height + 8.0);
  sheet.skip(3.0);
  canvas.outline({sheet.left(), sheet.y(), sheet.width(), height}, {.width = 1.3, .ink = kAccent});
  double y = sheet.y() + kPad;
  y += canvas.paragraph({phase_x, y}, 200.0, sheet.words().outcome, kLabel) + 2.0;
  for (const OutcomeRow& row : rows) {
    canvas.paragraph({phase_x, y + 3.5}, word_x - phase_x, row.phase, kStrong);
    canvas.paragraph({word_x, y}, says_x - word_x, row.word, kOutcome);
    const double says = canvas.paragraph({says_x, y + 3.5}, says_width, row.says, kBody);
    y += std::max(19.0, says + 5.0);
  }
  sheet.skip(height + 6.0);
}

std::string length_text(double length_m, bool us) {
  return us ? fmt::format("{} ft", units::print_fixed(length_m / units::kFoot_m, 1))
            : fmt::format("{} m", units::print_fixed(length_m, 2));
}

void draw_plan(Sheet& sheet, const DocumentView& view) {
  if (!(view.drawing.length_m > 0.0)) return;
  const DeckDrawing how;
  const double height = deck_height(view.drawing, sheet.width(), how);
  sheet.subheading(sheet.words().deck_plan, height + 14.0);
  draw_deck(sheet.canvas(), {sheet.left(), sheet.y()}, sheet.width(), view.drawing, {}, how,
            sheet.words());
  sheet.skip(height + 2.0);
  sheet.paragraph(fmt::format(fmt::runtime(sheet.words().plan_caption),
                              length_text(view.drawing.length_m, view.us),
                              length_text(view.drawing.width_m, view.us)),
                  kSmall);
}

}  // namespace

void draw_front(Sheet& sheet, const DocumentView& view) {
  draw_title(sheet, view);
  draw_parties(sheet, view);
  draw_item(sheet, view);
  draw_outcome(sheet, view);
  draw_plan(sheet, view);
}

}  // namespace weighwright::report
