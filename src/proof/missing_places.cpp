#include "proof/missing_places.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "proof/ranges.h"
#include "units/place.h"

namespace weighwright::proof {
namespace {

using record::LoadPlace;

constexpr std::array<const char*, 3> kThirds = {"end 1", "middle", "end 2"};
constexpr std::array<record::Heading, 2> kWays = {record::Heading::to_end_2,
                                                  record::Heading::to_end_1};

double section_x(const deck::Deck& deck, int section) {
  const int last = static_cast<int>(deck.sections.size()) - 1;
  return deck.sections[static_cast<std::size_t>(std::clamp(section, 0, last))].at_m;
}

/// Along the deck; empty: nowhere in particular.
std::optional<double> along_m(const deck::Deck& deck, const LoadPlace& place) {
  if (deck.sections.empty()) return std::nullopt;
  switch (place.kind) {
    case LoadPlace::Kind::stand:
      return section_x(deck, place.stand.section().value);
    case LoadPlace::Kind::section:
      return section_x(deck, place.section.value);
    case LoadPlace::Kind::span:
      return (section_x(deck, place.section.value) + section_x(deck, place.section.value + 1)) /
             2.0;
    case LoadPlace::Kind::point:
      return place.x_m;
    case LoadPlace::Kind::deck:
      break;
  }
  return std::nullopt;
}

/// The stand that a load counts for; -1: none.
int stand_of(const deck::Deck& deck, const LoadPlace& place) {
  if (place.kind == LoadPlace::Kind::stand) return place.stand.value;
  if (place.kind != LoadPlace::Kind::point) return -1;
  int best = -1;
  double least = 0.0;
  for (int i = 0; i < 2 * static_cast<int>(deck.sections.size()); ++i) {
    const units::StandIndex stand{i};
    const double off = std::hypot(section_x(deck, stand.section().value) - place.x_m,
                                  deck.stand_y_m(stand) - place.y_m);
    if (best < 0 || off < least) {
      best = i;
      least = off;
    }
  }
  return best;
}

/// Greatest load by place, and what it must be at each.
class Greatest {
 public:
  explicit Greatest(int places) : load_kg_(static_cast<std::size_t>(std::max(places, 0)), 0.0) {}

  void add(int place, double load_kg) {
    if (place < 0 || place >= static_cast<int>(load_kg_.size())) return;
    double& own = load_kg_[static_cast<std::size_t>(place)];
    own = std::max(own, load_kg);
  }
  [[nodiscard]] double at(int place) const { return load_kg_[static_cast<std::size_t>(place)]; }

 private:
  std::vector<double> load_kg_;
};

double wanted_kg(const std::optional<rules::TestLoad>& load) {
  return load && !load->at_most ? load->kg : 0.0;
}

/// What is prescribed is the least that belongs there, but for what weights are off.
bool is_enough(const Evidence& evidence, double load_kg, double wanted) {
  return load_kg > 0.0 && rules::counts_as_made(evidence.rulebook, evidence.scale,
                                                evidence.what.occasion, load_kg, wanted);
}

/// Greatest load by direction and third of the deck.
class Passes {
 public:
  explicit Passes(const deck::Deck& deck) : deck_(deck) {}

  void add(const LoadPlace& place, record::Heading heading, double load_kg) {
    const auto x = along_m(deck_, place);
    const double length = deck_.length_m();
    if (!x || !(length > 0.0)) return;
    const int third = std::clamp(static_cast<int>(3.0 * *x / length), 0, 2);
    for (std::size_t way = 0; way < kWays.size(); ++way) {
      if (heading == kWays[way]) greatest_[way].add(third, load_kg);
    }
  }
  [[nodiscard]] double at(std::size_t way, std::size_t third) const {
    return greatest_[way].at(static_cast<int>(third));
  }

 private:
  const deck::Deck& deck_;
  std::array<Greatest, kWays.size()> greatest_ = {Greatest(kThirds.size()),
                                                  Greatest(kThirds.size())};
};

void add_unknown(const Evidence& evidence, Passes& passes) {
  for (const SameLoad& group : same_loads(evidence, rules::Check::rolling)) {
    if (group.known) continue;
    for (const Row* row : group.rows) {
      passes.add(row->reading->reading.place, row->reading->heading, group.load_kg);
    }
  }
}

}  // namespace

std::vector<WantedPlace> missing_supports(const Evidence& evidence,
                                          const std::vector<const JudgedLine*>& lines) {
  const int stands = 2 * static_cast<int>(evidence.deck.sections.size());
  const double wanted = wanted_kg(rules::eccentric_load(evidence.rulebook, evidence.scale));
  Greatest greatest(stands);
  for (const JudgedLine* line : lines) {
    greatest.add(stand_of(evidence.deck, line->place), line->load_kg);
  }
  std::vector<WantedPlace> missing;
  for (int i = 0; i < stands; ++i) {
    if (is_enough(evidence, greatest.at(i), wanted)) continue;
    missing.push_back({.where = units::print(units::StandIndex{i}),
                       .load_kg = wanted,
                       .read = greatest.at(i) > 0.0});
  }
  return missing;
}

std::vector<WantedPlace> missing_sections(const Evidence& evidence,
                                          const std::vector<const JudgedLine*>& lines) {
  const int sections = static_cast<int>(evidence.deck.sections.size());
  const double wanted = wanted_kg(rules::section_load(evidence.rulebook, evidence.scale));
  Greatest middle(sections);
  Greatest sides(2 * sections);
  for (const JudgedLine* line : lines) {
    if (line->place.kind == LoadPlace::Kind::section) {
      middle.add(line->place.section.value, line->load_kg);
    } else {
      sides.add(stand_of(evidence.deck, line->place), line->load_kg);
    }
  }
  std::vector<WantedPlace> missing;
  for (int i = 0; i < sections; ++i) {
    // A side carries no more than half of what the section may.
    const double both = 2.0 * std::min(sides.at(2 * i), sides.at(2 * i + 1));
    const double most = std::max(middle.at(i), both);
    if (is_enough(evidence, most, wanted)) continue;
    missing.push_back({.where = std::to_string(i + 1), .load_kg = wanted, .read = most > 0.0});
  }
  return missing;
}

std::vector<WantedPlace> missing_passes(const Evidence& evidence,
                                        const std::vector<const JudgedLine*>& lines,
                                        bool unknown_too) {
  // What rolls stands in for a load over each support, so it is no smaller.
  const double wanted = wanted_kg(rules::eccentric_load(evidence.rulebook, evidence.scale));
  Passes passes(evidence.deck);
  for (const JudgedLine* line : lines) passes.add(line->place, line->heading, line->load_kg);
  if (unknown_too) add_unknown(evidence, passes);
  std::vector<WantedPlace> missing;
  for (std::size_t way = 0; way < kWays.size(); ++way) {
    for (std::size_t third = 0; third < kThirds.size(); ++third) {
      const double most = passes.at(way, third);
      if (is_enough(evidence, most, wanted)) continue;
      missing.push_back(
          {.where = std::string(kThirds[third]) + (way == 0 ? ", to end 2" : ", to end 1"),
           .load_kg = wanted,
           .read = most > 0.0});
    }
  }
  return missing;
}

}  // namespace weighwright::proof
