#include "proof/scale_of.h"

#include <cmath>

#include "units/quantity.h"

namespace weighwright::proof {

namespace {

/// A scale by the handbook whose Max is no whole number of pounds is a metric one: its tables have
/// a column for each.
bool whole_pounds(double kg) {
  constexpr double kRound_lb = 1e-6;
  const double lb = kg / units::kPound_kg;
  return std::abs(lb - std::round(lb)) < kRound_lb;
}

}  // namespace

rules::Scale scale_of(const deck::Deck& deck) {
  rules::Scale scale;
  scale.accuracy_class = deck.accuracy_class;
  scale.capacity_kg = deck.capacity_kg;
  scale.interval_kg = deck.interval_kg;
  scale.display_interval_kg = deck.display_interval_kg;
  for (const deck::Range& range : deck.ranges) {
    scale.ranges.emplace_back(range.capacity_kg, range.interval_kg);
  }
  scale.multiple_range = deck.ranges_kind == deck::RangesKind::ranges && deck.ranges.size() > 1;
  scale.clc_kg = deck.clc_kg;
  scale.tare_kg = deck.receptor.tare_kg.value_or(0.0);
  scale.supports = deck.stand_count();
  scale.sections = static_cast<int>(deck.sections.size());
  scale.us = deck.units == deck::UnitSystem::us && whole_pounds(deck.capacity_kg);
  return scale;
}

}  // namespace weighwright::proof
