#include "report/paper/deck_drawing.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace weighwright::report {
namespace {

constexpr double kEndRoom = 30.0;  // "end 1", "end 2"
constexpr double kScaleRoom = 16.0;

struct Scale {
  double x = 0.0;  // of end 1
  double y = 0.0;  // of the middle line
  double per_m = 1.0;
  [[nodiscard]] Point at(double x_m, double y_m) const {
    return {x + x_m * per_m, y - y_m * per_m};
  }
};

double per_metre(const DrawnDeck& deck, double width, const DeckDrawing& how) {
  const double length = std::max(deck.length_m, 0.1);
  const double across = std::max(deck.width_m, 0.1);
  return std::min((width - 2.0 * kEndRoom) / length, how.most_height / across);
}

double names_room(const DeckDrawing& how) {
  return how.stand_size + 5.0;
}

/// Room beyond the deck's edge for stands that stand outside of it.
double overhang(const DrawnDeck& deck, double per_m) {
  double most = 0.0;
  for (const DrawnStand& stand : deck.stands)
    most = std::max(most, std::abs(stand.y_m) - deck.width_m / 2.0);
  return most * per_m;
}

Box box_of(const Scale& scale, double from_m, double to_m, double across_m, double y_m = 0.0) {
  const Point corner = scale.at(from_m, y_m + across_m / 2.0);
  return {corner.x, corner.y, (to_m - from_m) * scale.per_m, across_m * scale.per_m};
}

void draw_modules(Pen& pen, const Scale& scale, const DrawnDeck& deck) {
  for (const DrawnModule& module : deck.modules) {
    const Box box = box_of(scale, module.start_m, module.end_m, module.width_m);
    pen.fill(box, kShade);
    pen.outline(box, {.width = 0.9, .ink = kBlack});
    if (!module.mark.empty())
      pen.label({box.x + box.width / 2.0, box.y + box.height / 2.0 + 4.0}, module.mark,
                {.size = 11.0, .bold = true, .ink = kHairline}, Align::centre);
  }
}

void draw_joints(Pen& pen, const Scale& scale, const DrawnDeck& deck) {
  for (const DrawnJoint& joint : deck.joints) {
    const Point top = scale.at(joint.at_m, deck.width_m / 2.0);
    const Point foot = scale.at(joint.at_m, -deck.width_m / 2.0);
    const double dash = joint.kind == "rigid" ? 0.0 : 2.5;
    pen.line({top.x, top.y - 3.0}, {foot.x, foot.y + 3.0},
             {.width = 0.7, .ink = kGrey, .dash = dash});
  }
}

void draw_patches(Pen& pen, const Scale& scale, const std::vector<PatchView>& patches) {
  for (const PatchView& patch : patches) {
    const Box box = box_of(scale, patch.x_m - patch.along_m / 2.0, patch.x_m + patch.along_m / 2.0,
                           patch.across_m, patch.y_m);
    pen.fill(box, kPatch);
    pen.outline(box, {.width = 1.1, .ink = kAccent});
    // Crossed out corners: the load is seen on a black and white print too.
    pen.line({box.x, box.y}, {box.x + box.width, box.y + box.height},
             {.width = 0.5, .ink = kAccent});
    pen.line({box.x + box.width, box.y}, {box.x, box.y + box.height},
             {.width = 0.5, .ink = kAccent});
  }
}

void draw_stands(Pen& pen, const Scale& scale, const DrawnDeck& deck, const DeckDrawing& how) {
  const double edge = deck.width_m / 2.0;
  for (const DrawnStand& stand : deck.stands) {
    const Point at = scale.at(stand.x_m, stand.y_m);
    constexpr double kHalf = 2.2;
    pen.fill({at.x - kHalf, at.y - kHalf, 2.0 * kHalf, 2.0 * kHalf}, kBlack);
    const bool marked =
        std::find(how.marked.begin(), how.marked.end(), stand.stand) != how.marked.end();
    if (marked)
      pen.outline({at.x - 3.0 * kHalf, at.y - 3.0 * kHalf, 6.0 * kHalf, 6.0 * kHalf},
                  {.width = 1.6, .ink = kBlack});
    const bool above = stand.y_m >= 0.0;
    const double rim = std::max(edge, std::abs(stand.y_m));
    const Point out = scale.at(stand.x_m, above ? rim : -rim);
    pen.label({at.x, above ? out.y - 5.0 : out.y + 4.0 + how.stand_size}, stand.stand,
              {.size = how.stand_size, .bold = true}, Align::centre);
  }
}

/// A bar of a round length, at most a third of the deck.
void draw_scale_bar(
    Pen& pen, const Scale& scale, const DrawnDeck& deck, double y, const Phrases& words) {
  double bar = 1.0;
  for (const double step : {2.0, 5.0, 10.0}) {
    if (step <= deck.length_m / 3.0) bar = step;
  }
  const Point from{scale.x, y};
  const Point to{scale.x + bar * scale.per_m, y};
  const Stroke stroke{.width = 0.7, .ink = kGrey};
  pen.line(from, to, stroke);
  pen.line({from.x, y - 2.5}, {from.x, y + 2.5}, stroke);
  pen.line({to.x, y - 2.5}, {to.x, y + 2.5}, stroke);
  pen.label({to.x + 4.0, y + 2.3}, fmt::format("{:.0f} {}", bar, words.metre),
            {.size = 6.5, .ink = kGrey}, Align::left);
}

}  // namespace

double deck_height(const DrawnDeck& deck, double width, const DeckDrawing& how) {
  const double per_m = per_metre(deck, width, how);
  return deck.width_m * per_m + 2.0 * (names_room(how) + overhang(deck, per_m)) + kScaleRoom;
}

void draw_deck(Pen& pen,
               Point at,
               double width,
               const DrawnDeck& deck,
               const std::vector<PatchView>& patches,
               const DeckDrawing& how,
               const Phrases& words) {
  const double per_m = per_metre(deck, width, how);
  const double top = at.y + names_room(how) + overhang(deck, per_m);
  const Scale scale{.x = at.x + (width - deck.length_m * per_m) / 2.0,
                    .y = top + deck.width_m * per_m / 2.0,
                    .per_m = per_m};
  draw_modules(pen, scale, deck);
  draw_joints(pen, scale, deck);
  draw_patches(pen, scale, patches);
  draw_stands(pen, scale, deck, how);
  const TextStyle ends{.size = 7.5, .ink = kGrey};
  pen.label({scale.x - 5.0, scale.y + 2.5}, words.end_1, ends, Align::right);
  pen.label({scale.x + deck.length_m * per_m + 5.0, scale.y + 2.5}, words.end_2, ends, Align::left);
  const double foot = top + deck.width_m * per_m + overhang(deck, per_m) + names_room(how);
  draw_scale_bar(pen, scale, deck, foot + 7.0, words);
}

}  // namespace weighwright::report
