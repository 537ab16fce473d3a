#include "trim/indications.h"

#include <algorithm>
#include <cmath>

namespace weighwright::trim {
namespace {

using record::LoadReading;

constexpr double kNoise_of_d = 0.3;         // repeatability where nobody measured it
constexpr double kZeroMayBeOff_of_e = 0.5;  // half width, where zero was not read
constexpr double kChangeover_of_d = 0.1;    // step of the small weights, usual (R 76-1 A.4.4.3)

double rounding(double step) {
  return step / std::sqrt(12.0);
}

bool is_zero_row(const LoadReading& reading) {
  return reading.load_kg && *reading.load_kg == 0.0 && reading.material.empty();
}

/// The display's step: d where every figure is a multiple of it, else the last digit typed.
double step_of(const deck::Deck& deck, const std::vector<LoadReading>& readings) {
  const double d = deck.display_kg();
  double finest = d;
  for (const LoadReading& reading : readings) {
    const double steps = reading.indication_kg / d;
    if (std::abs(steps - std::round(steps)) > 1e-6 * std::max(1.0, std::abs(steps))) {
      finest = std::min(finest, reading.last_digit_kg > 0.0 ? reading.last_digit_kg : d);
    }
  }
  return finest;
}

Indication loaded(const deck::Deck& deck, const LoadReading& reading, double step_kg) {
  Indication result;
  result.kg = reading.indication_kg;
  result.resolution_kg = reading.resolution_kg.value_or(step_kg);
  double step = result.resolution_kg;
  if (reading.added_kg) {
    result.kg += deck.display_kg() / 2.0 - *reading.added_kg;
    step = kChangeover_of_d * deck.display_kg();
  }
  result.u_kg = std::hypot(rounding(step), repeatability_kg(deck));
  return result;
}

bool between_steps(const std::optional<double>& kg, double step_kg) {
  if (!kg) return false;
  const double steps = *kg / step_kg;
  return std::abs(steps - std::round(steps)) > 1e-6 * std::max(1.0, std::abs(steps));
}

void take_zero_off(const deck::Deck& deck,
                   Indication& indication,
                   const std::optional<double>& before,
                   const std::optional<double>& after) {
  // A zero between the display's steps was found with small weights, as the load was.
  const bool small_weights = between_steps(before, indication.resolution_kg) ||
                             between_steps(after, indication.resolution_kg);
  const double one =
      rounding(small_weights ? kChangeover_of_d * deck.display_kg() : indication.resolution_kg);
  double variance = indication.u_kg * indication.u_kg;
  if (before && after) {
    indication.kg -= (*before + *after) / 2.0;
    indication.zero_change_kg = *after - *before;
    variance += one * one / 2.0;
  } else if (before || after) {
    indication.kg -= before ? *before : *after;
    variance += one * one;
  } else {
    const double off = kZeroMayBeOff_of_e * deck.interval_kg;
    variance += off * off / 3.0;
  }
  indication.zero_read = before || after;
  indication.u_kg = std::sqrt(variance);
}

}  // namespace

std::vector<Indication> indications(const deck::Deck& deck,
                                    const std::vector<LoadReading>& readings) {
  const double step_kg = step_of(deck, readings);
  std::vector<Indication> result;
  std::optional<double> zero_kg;  // of the last zero row
  std::size_t open = 0;           // first indication that waits for the zero row after it
  const auto close = [&](const std::optional<double>& after) {
    for (; open < result.size(); ++open) {
      const LoadReading& reading = readings[result[open].reading];
      const bool own = reading.zero_before_kg || reading.zero_after_kg;
      take_zero_off(deck, result[open], own ? reading.zero_before_kg : zero_kg,
                    own ? reading.zero_after_kg : after);
    }
  };
  for (std::size_t i = 0; i < readings.size(); ++i) {
    if (is_zero_row(readings[i])) {
      close(readings[i].indication_kg);
      zero_kg = readings[i].indication_kg;
      continue;
    }
    result.push_back(loaded(deck, readings[i], step_kg));
    result.back().reading = i;
  }
  close(std::nullopt);
  return result;
}

double repeatability_kg(const deck::Deck& deck) {
  return deck.trimming.repeatability_kg.value_or(kNoise_of_d * deck.display_kg());
}

}  // namespace weighwright::trim
