#include "proof/plan_places.h"

#include <algorithm>

namespace weighwright::proof {
namespace {

constexpr double kLorry_m = 10.0;        // a loaded lorry of which nothing is stated: about so long
constexpr double kLorryWidth_m = 2.5;    // and so wide (common practice, no source)
constexpr double kPattern_m = 1.2;       // where a rulebook gives no pattern: an axle group
constexpr std::size_t kFewSections = 2;  // of a deck on four stands

struct Size {
  double along_m = 0.0;
  double across_m = 0.0;
};

/// Area that a test gives to a load on it.
Size area_of(const deck::Deck& deck,
             const rules::Rulebook& rulebook,
             rules::Check check,
             const record::LoadPlace& place) {
  const double width = usable_width_m(deck);
  const auto sections = static_cast<double>(deck.sections.size());
  if (place.kind == record::LoadPlace::Kind::stand) return {deck.length_m() / sections, width / 2};
  const double along = rulebook.pattern_length_m.value;
  const double across = rulebook.pattern_width_m.value;
  const Size pattern{along > 0.0 ? along : kPattern_m,
                     std::min(across > 0.0 ? across : width, width)};
  if (place.kind == record::LoadPlace::Kind::point) return {pattern.along_m, width / 2};
  if (check == rules::Check::section || check == rules::Check::midspan) return pattern;
  return {deck.length_m(), width};
}

/// Outline of the longest vehicle or cart among the load; empty: only weights are.
std::optional<Size> outline_of(const deck::Deck& deck, const Stock& stock, const Pieces& pieces) {
  std::optional<Size> size;
  int rolling = 0;
  for (std::size_t i = 0; i < stock.size(); ++i) {
    if (pieces[i] == 0 || !stock[i].rolls()) continue;
    rolling += pieces[i];
    const Size own{stock[i].along_m > 0.0 ? stock[i].along_m : kLorry_m,
                   stock[i].across_m > 0.0 ? stock[i].across_m
                                           : std::min(kLorryWidth_m, usable_width_m(deck))};
    if (!size || own.along_m > size->along_m) size = own;
  }
  // Several one behind the other cover no single outline.
  return rolling == 1 ? size : std::nullopt;
}

double kept_inside(double centre, double half, double low, double high) {
  if (high - low < 2.0 * half) return (low + high) / 2.0;
  return std::clamp(centre, low + half, high - half);
}

}  // namespace

double usable_width_m(const deck::Deck& deck) {
  double least = 0.0;
  for (const deck::Module& module : deck.modules) {
    least = least == 0.0 ? module.width_m : std::min(least, module.width_m);
  }
  return least;
}

Middle middle_of(const deck::Deck& deck, rules::Check check, const record::LoadPlace& place) {
  using Kind = record::LoadPlace::Kind;
  const auto section = static_cast<std::size_t>(place.section.value);
  switch (place.kind) {
    case Kind::stand: {
      const double y = deck.stand_y_m(place.stand);
      const auto own = static_cast<std::size_t>(place.stand.section().value);
      if (check == rules::Check::eccentric && deck.sections.size() <= kFewSections) {
        const double quarter = usable_width_m(deck) / 4.0;
        return {deck.length_m() * (own == 0 ? 0.25 : 0.75), y > 0.0 ? quarter : -quarter};
      }
      return {deck.sections[own].at_m, y};
    }
    case Kind::section:
      return {deck.sections[section].at_m, 0.0};
    case Kind::span:
      return {(deck.sections[section].at_m + deck.sections[section + 1].at_m) / 2.0, 0.0};
    case Kind::point:
      return {place.x_m, place.y_m};
    case Kind::deck:
      break;
  }
  return {deck.length_m() / 2.0, 0.0};
}

Patch patch_at(const deck::Deck& deck,
               const rules::Rulebook& rulebook,
               const Stock& stock,
               const Pieces& pieces,
               rules::Check check,
               const record::LoadPlace& place) {
  Size size = area_of(deck, rulebook, check, place);
  if (const auto outline = outline_of(deck, stock, pieces)) size = *outline;
  const double length = deck.length_m();
  const double half_width = usable_width_m(deck) / 2.0;
  size.along_m = std::min(size.along_m, length);
  const Middle middle = middle_of(deck, check, place);
  return {.x_m = kept_inside(middle.x_m, size.along_m / 2.0, 0.0, length),
          .y_m = kept_inside(middle.y_m, size.across_m / 2.0, -half_width, half_width),
          .along_m = size.along_m,
          .across_m = size.across_m};
}

units::SectionIndex longest_span(const deck::Deck& deck) {
  int best = 0;
  double longest = 0.0;
  for (std::size_t i = 0; i + 1 < deck.sections.size(); ++i) {
    const double span = deck.sections[i + 1].at_m - deck.sections[i].at_m;
    if (span <= longest + 1e-9) continue;
    longest = span;
    best = static_cast<int>(i);
  }
  return {best};
}

record::LoadPlace at_stand(int stand) {
  record::LoadPlace place;
  place.kind = record::LoadPlace::Kind::stand;
  place.stand = {stand};
  place.typed = units::print(place.stand);
  return place;
}

record::LoadPlace at_section(int section) {
  record::LoadPlace place;
  place.kind = record::LoadPlace::Kind::section;
  place.section = {section};
  place.typed = std::to_string(section + 1);
  return place;
}

record::LoadPlace at_span(int section) {
  record::LoadPlace place;
  place.kind = record::LoadPlace::Kind::span;
  place.section = {section};
  place.typed = std::to_string(section + 1) + "-" + std::to_string(section + 2);
  return place;
}

record::LoadPlace beside(const deck::Deck& deck, int section, units::Side side) {
  const auto stand = units::StandIndex::of({section}, side);
  record::LoadPlace place;
  place.kind = record::LoadPlace::Kind::point;
  place.x_m = deck.sections[static_cast<std::size_t>(section)].at_m;
  place.y_m = deck.stand_y_m(stand) / 2.0;
  return place;
}

std::string name_of(const record::LoadPlace& place) {
  using Kind = record::LoadPlace::Kind;
  if (place.kind == Kind::deck) return "deck";
  if (place.kind == Kind::section) return "section " + place.typed;
  if (place.kind == Kind::point) return place.y_m > 0.0 ? "left side" : "right side";
  return place.typed;
}

}  // namespace weighwright::proof
