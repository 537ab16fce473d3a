#include "job/live_limits.h"

#include <algorithm>
#include <optional>

#include "units/place.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

constexpr double kBeyond = 1.5;
constexpr double kShownBeyondMax = 9.0;  // e

link::PlaceLimits around_zero(deck::LiveUnit unit, double most, double quiet) {
  return {.unit = unit, .least = -most, .most = most, .quiet = quiet};
}

link::PlaceLimits of_indication(const deck::Deck& deck) {
  link::PlaceLimits limits = around_zero(deck::LiveUnit::kg, kBeyond * deck.capacity_kg, 0.0);
  limits.explained_most = most_explained_kg(deck);
  limits.explained_least = -limits.explained_most;
  limits.step = deck.display_at_kg(deck.capacity_kg);
  return limits;
}

/// Of one cell; the noise of its signal as a part of its rated output, in the unit asked for.
link::PlaceLimits of_cell(const deck::Deck& deck, const deck::Cell& cell, deck::LiveUnit unit) {
  constexpr double kMilli = 1e3;
  const double rated_V = cell.output_V_per_V * deck.excitation_V;
  const double noise_part = rated_V > 0.0 ? deck.sharing.noise_V / rated_V : 0.0;
  double rated = 0.0;  // in the unit
  switch (unit) {
    case deck::LiveUnit::mV:
      rated = rated_V * kMilli;
      break;
    case deck::LiveUnit::mV_per_V:
      rated = cell.output_V_per_V * kMilli;
      break;
    case deck::LiveUnit::counts:
      rated = cell.counts.value_or(0.0);
      break;
    case deck::LiveUnit::kg:
      rated = cell.capacity_kg;
      break;
    case deck::LiveUnit::lb:
      rated = cell.capacity_kg / units::kPound_kg;
      break;
  }
  return around_zero(unit, kBeyond * rated, noise_part * rated);
}

link::PlaceLimits of_place(const deck::Deck& deck, const deck::Register& one) {
  const std::optional<units::StandIndex> stand = units::parse_stand(one.place);
  if (!stand) {
    // The whole deck's signal in another unit than that of weights: nothing is known of it.
    const bool mass = one.unit == deck::LiveUnit::kg || one.unit == deck::LiveUnit::lb;
    return mass ? of_indication(deck) : link::PlaceLimits{};
  }
  if (stand->value >= deck.stand_count()) return {};
  return of_cell(deck, deck.stands[static_cast<std::size_t>(stand->value)].cell, one.unit);
}

}  // namespace

double most_explained_kg(const deck::Deck& deck) {
  return deck.capacity_kg + kShownBeyondMax * deck.interval_at_kg(deck.capacity_kg);
}

double most_output_V_per_V(const deck::Cell& cell) {
  return kBeyond * cell.output_V_per_V;
}

std::vector<std::vector<link::PlaceLimits>> live_limits(
    const deck::Deck& deck, const std::vector<deck::Instrument>& instruments) {
  std::vector<std::vector<link::PlaceLimits>> all;
  for (const deck::Instrument& instrument : instruments) {
    std::vector<link::PlaceLimits> places;
    if (!deck::is_modbus(instrument.kind)) places.push_back(of_indication(deck));
    for (const deck::Register& one : instrument.registers) places.push_back(of_place(deck, one));
    for (link::PlaceLimits& place : places) {
      const bool shows = place.explained_least < place.explained_most;
      if (shows) place.step = std::max(place.step, instrument.step_kg);
    }
    all.push_back(std::move(places));
  }
  return all;
}

}  // namespace weighwright::job
