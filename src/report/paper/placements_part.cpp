#include "report/paper/placements_part.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <utility>

#include "report/paper/deck_drawing.h"
#include "report/paper/paper_table.h"

namespace weighwright::report {
namespace {

constexpr int kAcross = 2;  // drawings side by side
constexpr double kGap = 8.0 * kPerMm;

/// Placements whose loads stood at the same place.
struct Drawn {
  std::string numbers;
  std::pair<double, double> at_m;
};

std::vector<Drawn> drawings_of(const std::vector<PlacedView>& placed) {
  std::vector<Drawn> all;
  for (const PlacedView& one : placed) {
    if (!one.at_m) continue;
    const auto same = std::find_if(all.begin(), all.end(),
                                   [&one](const Drawn& drawn) { return drawn.at_m == *one.at_m; });
    const std::string number = std::to_string(one.number);
    if (same == all.end()) {
      all.push_back({.numbers = number, .at_m = *one.at_m});
    } else {
      same->numbers += ", " + number;
    }
  }
  return all;
}

std::string where_of(const PlacedView& placed) {
  if (placed.heading.empty()) return placed.where;
  return placed.where.empty() ? placed.heading : placed.where + ", " + placed.heading;
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

const char* phase_words(const std::string& phase, const Phrases& words) {
  if (phase == "found") return words.placed_found;
  return phase == "left" ? words.placed_left : words.placed_stale;
}

PaperRow row_of(const PlacedView& one, const ProofView& unit, const Phrases& words) {
  const std::string name =
      one.run > 1 ? one.name + ", " + fmt::format(fmt::runtime(words.run), one.run) : one.name;
  return {.kind = PaperRow::Kind::cells,
          .cells = {
              std::to_string(one.number), name, where_of(one), one.what,
              one.load_kg ? typeset(mass_figure(unit, *one.load_kg), unit.us) : words.unknown_load,
              one.when, one.who, std::to_string(one.entry)}};
}

PaperTable placement_table(const DocumentView& view, const Phrases& words) {
  const ProofView unit = unit_of(view);
  PaperTable table;
  table.columns = {{.head = words.entry, .align = Align::right},
                   {.head = words.test, .align = Align::left, .stretch = true},
                   {.head = words.where, .align = Align::left, .stretch = true},
                   {.head = words.load_of, .align = Align::left, .stretch = true},
                   {.head = words.load, .unit = mass_unit(unit), .align = Align::right},
                   {.head = words.stood_when, .align = Align::left},
                   {.head = words.stood_by, .align = Align::left, .stretch = true},
                   {.head = words.of_entry, .align = Align::right}};
  const std::string* phase = nullptr;
  for (const PlacedView& one : view.placed) {
    if (phase == nullptr || *phase != one.phase)
      table.rows.push_back(
          {.kind = PaperRow::Kind::group, .cells = {phase_words(one.phase, words), ""}});
    phase = &one.phase;
    table.rows.push_back(row_of(one, unit, words));
  }
  return table;
}

void draw_drawings(Sheet& sheet, const std::vector<PlacedView>& placed, const DrawnDeck& deck) {
  constexpr double kMark_m = 1.4;  // is seen around a stand
  const std::vector<Drawn> all = drawings_of(placed);
  const DeckDrawing how{.most_height = 26.0 * kPerMm, .stand_size = 6.5, .marked = {}};
  const double wide = (sheet.width() - (kAcross - 1) * kGap) / kAcross;
  Canvas& canvas = sheet.canvas();
  const auto caption_of = [&sheet](const Drawn& drawn) {
    return fmt::format(fmt::runtime(sheet.words().drawing_of), drawn.numbers);
  };
  for (std::size_t i = 0; i < all.size(); i += kAcross) {
    const std::size_t end = std::min(i + kAcross, all.size());
    double caption = 0.0;
    for (std::size_t j = i; j < end; ++j)
      caption = std::max(caption, canvas.height_of(wide, caption_of(all[j]), kSmall));
    const double height = deck_height(deck, wide, how) + caption + 8.0;
    sheet.need(height);
    for (std::size_t j = i; j < end; ++j) {
      const double x = sheet.left() + static_cast<double>(j - i) * (wide + kGap);
      canvas.paragraph({x, sheet.y()}, wide, caption_of(all[j]), kSmall);
      const auto& [x_m, y_m] = all[j].at_m;
      draw_deck(canvas, {x, sheet.y() + caption + 1.0}, wide, deck,
                {{.x_m = x_m, .y_m = y_m, .along_m = kMark_m, .across_m = kMark_m}}, how,
                sheet.words());
    }
    sheet.skip(height);
  }
}

}  // namespace

void draw_placements(Sheet& sheet, const DocumentView& view) {
  if (view.placed.empty()) return;
  sheet.heading(sheet.words().placements, 60.0);
  sheet.paragraph(sheet.words().placements_says, kSmall);
  draw_table(sheet, placement_table(view, sheet.words()));
  if (view.drawing.length_m > 0.0) draw_drawings(sheet, view.placed, view.drawing);
}

}  // namespace weighwright::report
