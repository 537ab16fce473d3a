#include "report/paper/placements_part.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>

#include "report/paper/deck_drawing.h"
#include "report/paper/paper_table.h"

namespace weighwright::report {
namespace {

constexpr const char* kNone = "\u2013";
constexpr int kAcross = 2;  // drawings side by side
constexpr double kGap = 8.0 * kPerMm;

/// Placements whose loads stand on the same places.
struct Drawn {
  std::string numbers;
  std::vector<PatchView> patches;
};

bool same_place(const PatchView& a, const PatchView& b) {
  return a.x_m == b.x_m && a.y_m == b.y_m && a.along_m == b.along_m && a.across_m == b.across_m;
}

std::vector<Drawn> drawings_of(const TestPlanView& plan) {
  std::vector<Drawn> all;
  for (const PlacementView& placement : plan.placements) {
    if (placement.patches.empty()) continue;
    const auto same = std::find_if(all.begin(), all.end(), [&placement](const Drawn& drawn) {
      return std::equal(drawn.patches.begin(), drawn.patches.end(), placement.patches.begin(),
                        placement.patches.end(), same_place);
    });
    const std::string number = std::to_string(placement.number);
    if (same == all.end()) {
      all.push_back({.numbers = number, .patches = placement.patches});
    } else {
      same->numbers += ", " + number;
    }
  }
  return all;
}

std::string where_of(const PlacementView& placement) {
  if (placement.heading.empty()) return placement.where;
  return placement.where.empty() ? placement.heading : placement.where + ", " + placement.heading;
}

std::string what_of(const PlacementView& placement) {
  if (placement.materials.empty()) return placement.weights;
  return placement.weights.empty() ? placement.materials
                                   : placement.weights + " + " + placement.materials;
}

/// Figures in the unit and as fine as those of the results.
ProofView unit_of(const DocumentView& view) {
  ProofView unit;
  const ProofView* const proof = view.as_left    ? &*view.as_left
                                 : view.as_found ? &*view.as_found
                                                 : nullptr;
  unit.us = view.us;
  unit.interval_kg = proof != nullptr ? proof->interval_kg : 1.0;
  return unit;
}

PaperTable placement_table(const TestPlanView& plan, const ProofView& unit, const Phrases& words) {
  PaperTable table;
  table.columns = {{.head = words.entry, .align = Align::right},
                   {.head = words.test, .align = Align::left, .stretch = true},
                   {.head = words.where, .align = Align::left, .stretch = true},
                   {.head = words.load_of, .align = Align::left, .stretch = true},
                   {.head = words.load, .unit = mass_unit(unit), .align = Align::right},
                   {.head = words.limit, .unit = mass_unit(unit), .align = Align::right},
                   {.head = words.clause, .align = Align::left, .stretch = true}};
  for (const PlacementView& one : plan.placements) {
    table.rows.push_back(
        {.kind = PaperRow::Kind::cells,
         .cells = {std::to_string(one.number),
                   one.run > 1 ? one.name + ", " + fmt::format(fmt::runtime(words.run), one.run)
                               : one.name,
                   where_of(one), what_of(one), typeset(mass_figure(unit, one.load_kg), unit.us),
                   one.limit_kg ? typeset(mass_figure(unit, *one.limit_kg), unit.us) : kNone,
                   one.clause}});
  }
  return table;
}

void draw_drawings(Sheet& sheet, const TestPlanView& plan, const DrawnDeck& deck) {
  const std::vector<Drawn> all = drawings_of(plan);
  const DeckDrawing how{.most_height = 26.0 * kPerMm, .stand_size = 6.5, .marked = {}};
  const double wide = (sheet.width() - (kAcross - 1) * kGap) / kAcross;
  Canvas& canvas = sheet.canvas();
  for (std::size_t i = 0; i < all.size(); i += kAcross) {
    double caption = 0.0;
    for (std::size_t j = i; j < std::min(i + kAcross, all.size()); ++j)
      caption = std::max(caption, canvas.height_of(wide, all[j].numbers, kSmall));
    const double height = deck_height(deck, wide, how) + caption + 8.0;
    sheet.need(height);
    for (std::size_t j = i; j < std::min(i + kAcross, all.size()); ++j) {
      const double x = sheet.left() + static_cast<double>(j - i) * (wide + kGap);
      canvas.paragraph({x, sheet.y()}, wide,
                       fmt::format(fmt::runtime(sheet.words().drawing_of), all[j].numbers), kSmall);
      draw_deck(canvas, {x, sheet.y() + caption + 1.0}, wide, deck, all[j].patches, how,
                sheet.words());
    }
    sheet.skip(height);
  }
}

}  // namespace

void draw_placements(Sheet& sheet, const DocumentView& view) {
  if (!view.plan || view.plan->placements.empty()) return;
  const DrawnDeck& deck = view.plan->plan.length_m > 0.0 ? view.plan->plan : view.drawing;
  sheet.heading(sheet.words().placements, 60.0);
  sheet.paragraph(sheet.words().placements_says, kSmall);
  draw_table(sheet, placement_table(*view.plan, unit_of(view), sheet.words()));
  if (deck.length_m > 0.0) draw_drawings(sheet, *view.plan, deck);
}

}  // namespace weighwright::report
