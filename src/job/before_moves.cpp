#include "job/before_moves.h"

#include <algorithm>
#include <variant>

namespace weighwright::job {
namespace {

constexpr double kAnotherLoad = 1.25;  // so much more is another load

using record::LoadPlace;
using record::LoadReading;

std::vector<const LoadReading*> loads_of(const Evidence& corners) {
  std::vector<const LoadReading*> list;
  for (const record::Measurement& event : corners.events) {
    const auto* const set = std::get_if<record::ShiftSet>(&event);
    if (set == nullptr) continue;
    for (const LoadReading& reading : set->readings) {
      if (reading.load_kg != 0.0) list.push_back(&reading);
    }
  }
  return list;
}

bool same_place(const LoadReading& a, const LoadReading& b) {
  return a.place.kind == b.place.kind && a.place.typed == b.place.typed &&
         a.place.x_m == b.place.x_m && a.place.y_m == b.place.y_m;
}

bool another_load(const LoadReading& a, const LoadReading& b) {
  if (!a.load_kg || !b.load_kg) return a.load_id != b.load_id;
  return *a.load_kg > kAnotherLoad * *b.load_kg || *b.load_kg > kAnotherLoad * *a.load_kg;
}

}  // namespace

std::vector<std::string> unread_before_trims(const Evidence& corners, const std::string& worst) {
  // Once trims are being moved it was read; which place is worst changes then.
  const bool begun = std::any_of(corners.events.begin(), corners.events.end(), [](const auto& one) {
    return std::holds_alternative<record::TrimSet>(one);
  });
  if (begun) return {};
  const std::vector<const LoadReading*> loads = loads_of(corners);
  const bool down = std::any_of(loads.begin(), loads.end(), [](const LoadReading* one) {
    return one->going == record::Going::down;
  });
  const bool between = std::any_of(loads.begin(), loads.end(), [](const LoadReading* one) {
    return one->place.kind != LoadPlace::Kind::stand;
  });
  bool two = false;
  for (const LoadReading* a : loads) {
    if (!a->place.typed.empty() && a->place.typed != worst) continue;
    for (const LoadReading* b : loads) two |= same_place(*a, *b) && another_load(*a, *b);
  }
  std::vector<std::string> list;
  if (!down) {
    list.emplace_back(
        "One end stand going up and coming down (a greater load first, then this one; column "
        "going: up, down): friction and a packed end read otherwise on the way down.");
  }
  if (!two) {
    list.push_back(
        worst +
        ", which is furthest off, with a second load, half as much again or half: corners that "
        "agree at one load only hide a bind that somebody trimmed out.");
  }
  if (!between) {
    list.emplace_back(
        "One heavy place between sections (at = 2-3): what touches there is not felt over a "
        "stand.");
  }
  return list;
}

bool supply_was_looked_at(const SiteState& state) {
  return std::any_of(state.events.begin(), state.events.end(), [&](const Event& event) {
    if (event.line < state.visit_line) return false;
    if (const auto* looks = std::get_if<record::LookSet>(&event.what)) {
      return std::any_of(looks->looks.begin(), looks->looks.end(),
                         [](const record::Look& look) { return look.code == "sense_loose"; });
    }
    const auto* const meter = std::get_if<record::ElectricSet>(&event.what);
    return meter != nullptr && meter->box && (meter->box->excitation_V || meter->box->sense_V);
  });
}

}  // namespace weighwright::job
