#include "link/place_record.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "units/quantity.h"

namespace weighwright::link {
namespace {

/// No converter resolves that part of its range (24 bits: 6e-8); two words exchanged look so.
constexpr double kSmallest = 1e-9;

bool is_mass(deck::LiveUnit unit) {
  return unit == deck::LiveUnit::kg || unit == deck::LiveUnit::lb;
}

double kilograms(deck::LiveUnit unit) {
  return unit == deck::LiveUnit::lb ? units::kPound_kg : 1.0;
}

/// The limits in the unit in which values come; nothing known where they can't be turned into it.
PlaceLimits limits_in(const PlaceLimits& limits, deck::LiveUnit unit) {
  if (limits.unit == unit) return limits;
  if (!is_mass(limits.unit) || !is_mass(unit)) return {};
  const double factor = kilograms(limits.unit) / kilograms(unit);
  return {.unit = unit,
          .least = limits.least * factor,
          .most = limits.most * factor,
          .explained_least = limits.explained_least * factor,
          .explained_most = limits.explained_most * factor,
          .step = limits.step * factor,
          .quiet = limits.quiet * factor};
}

const char* name_of(deck::LiveUnit unit) {
  switch (unit) {
    case deck::LiveUnit::mV:
      return "mV";
    case deck::LiveUnit::mV_per_V:
      return "mV/V";
    case deck::LiveUnit::counts:
      return "counts";
    case deck::LiveUnit::kg:
      return "kg";
    case deck::LiveUnit::lb:
      break;
  }
  return "lb";
}

bool known(const PlaceLimits& limits) {
  return limits.least < limits.most;
}

/// A figure that this place may well show.
bool fits(double value, const PlaceLimits& limits) {
  const double range = std::max(std::abs(limits.least), std::abs(limits.most));
  return value >= limits.least && value <= limits.most && std::abs(value) >= kSmallest * range;
}

/// What is likely wrong, for a value that can't be.
std::string likely(const Reading& reading, const PlaceLimits& limits) {
  if (reading.exchanged && fits(*reading.exchanged, limits)) {
    return fmt::format(
        "with its two words exchanged it would be {:.6g}: word_order is likely wrong",
        *reading.exchanged);
  }
  for (const auto& [part, word] :
       {std::pair{10.0, "tenth"}, std::pair{100.0, "hundredth"}, std::pair{1000.0, "thousandth"}}) {
    if (fits(*reading.value / part, limits)) {
      return fmt::format("a {} of it would fit: is the scale right, and the register?", word);
    }
  }
  return "is it the right register, and its type?";
}

bool whole_steps(double value, double step) {
  constexpr double kRounding = 1e-6;  // of a step: floats of 24 bits show up to 10 million steps
  return std::abs(value / step - std::round(value / step)) < kRounding;
}

/// A display that counts by whole steps shows such a figure where the two words are exchanged, and
/// none where they are not: 20,000 kg as a float look like 2.0043 kg.
bool looks_exchanged(const Reading& reading, const PlaceLimits& limits) {
  if (!reading.exchanged || limits.step <= 0.0 || *reading.exchanged == 0.0) return false;
  return fits(*reading.exchanged, limits) && whole_steps(*reading.exchanged, limits.step) &&
         *reading.exchanged >= limits.explained_least &&
         *reading.exchanged <= limits.explained_most && !whole_steps(*reading.value, limits.step);
}

/// Why a value can be none of this place; empty: it can.
std::string impossible(const Reading& reading, const PlaceLimits& limits) {
  const double value = *reading.value;
  const char* const unit = name_of(reading.unit);
  if (!known(limits)) return {};
  if (value < limits.least || value > limits.most) {
    const bool above = value > limits.most;
    return fmt::format("{:.6g} {} is {} than deck and cells can give ({:.6g} {}); {}", value, unit,
                       above ? "more" : "less", above ? limits.most : limits.least, unit,
                       likely(reading, limits));
  }
  if (value != 0.0 && !fits(value, limits)) {
    return fmt::format("{:.3g} {} is smaller than anything that is measured; {}", value, unit,
                       likely(reading, limits));
  }
  if (looks_exchanged(reading, limits)) {
    return fmt::format("{:.6g} {} is no figure of this display; {}", value, unit,
                       likely(reading, limits));
  }
  return {};
}

}  // namespace

PlaceRecord::PlaceRecord(std::string place,
                         deck::LiveUnit unit,
                         double every_s,
                         double stale_s,
                         const PlaceLimits& limits)
    : place_(std::move(place)),
      unit_(unit),
      stale_ms_(std::llround(1000.0 * stale_s)),
      limits_(limits),
      stability_(every_s,
                 {.step = limits_in(limits, unit).step, .quiet = limits_in(limits, unit).quiet}) {}

void PlaceRecord::take(std::int64_t now_ms, const Reading& came) {
  Reading reading = came;
  if (reading.value) {
    std::string why = impossible(reading, limits_in(limits_, reading.unit));
    if (!why.empty()) {
      reading.value.reset();
      reading.typed.clear();
      reading.says = std::move(why);
    }
  }
  if (reading.value) {
    if (reading.unit != unit_) {
      const PlaceLimits limits = limits_in(limits_, reading.unit);
      stability_.forget({.step = limits.step, .quiet = limits.quiet});
    }
    // values on both sides of a silence are not neighbours
    if (valued_ && now_ms - value_at_ms_ > stale_ms_) stability_.interrupt();
    unit_ = reading.unit;
    valued_ = true;
    value_at_ms_ = now_ms;
    stability_.add(now_ms, *reading.value, reading.resolution, reading.moving);
  } else {
    stability_.interrupt();
  }
  last_ = std::move(reading);
  any_ = true;
  news_at_ms_ = now_ms;
}

bool PlaceRecord::explained() const {
  const PlaceLimits limits = limits_in(limits_, unit_);
  if (!last_.value || limits.explained_least >= limits.explained_most) return true;
  return *last_.value >= limits.explained_least && *last_.value <= limits.explained_most;
}

Quality PlaceRecord::quality_at(std::int64_t now_ms) const {
  if (!any_) return Quality::silent;
  if (now_ms - news_at_ms_ > stale_ms_) return Quality::stale;
  if (!last_.value) return Quality::bad;
  if (!explained()) return Quality::unexplained;
  const bool stable = stability_.judgement().state == Judgement::State::stable;
  return stable ? Quality::stable : Quality::moving;
}

LiveValue PlaceRecord::show(std::int64_t now_ms) const {
  LiveValue out;
  out.place = place_;
  out.unit = unit_;
  out.quality = quality_at(now_ms);
  out.value = last_.value;
  out.typed = last_.typed;
  out.resolution = last_.resolution;
  out.says = last_.says;
  out.age_ms = valued_ ? now_ms - value_at_ms_ : 0;
  const Judgement& judgement = stability_.judgement();
  if (out.quality == Quality::silent) out.says = "no value yet";
  if (out.quality == Quality::stale) out.says = "nothing new since then";
  if (out.quality == Quality::unexplained) out.says = "no load on this deck explains it";
  if (out.quality == Quality::moving && out.says.empty()) out.says = judgement.says;
  if (out.quality == Quality::stable || out.quality == Quality::moving) {
    out.samples = judgement.samples;
  }
  if (out.quality == Quality::stable) {
    out.mean = judgement.mean;
    out.noise = judgement.noise;
    out.u_mean = judgement.u_mean;
  }
  return out;
}

}  // namespace weighwright::link
