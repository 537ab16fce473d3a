#include "link/place_record.h"

#include <cmath>
#include <utility>

namespace weighwright::link {

PlaceRecord::PlaceRecord(std::string place, deck::LiveUnit unit, double every_s, double stale_s)
    : place_(std::move(place)),
      unit_(unit),
      stale_ms_(std::llround(1000.0 * stale_s)),
      stability_(every_s) {}

void PlaceRecord::take(std::int64_t now_ms, const Reading& reading) {
  if (reading.value) {
    if (reading.unit != unit_) stability_.forget();
    // values on both sides of a silence are not neighbours
    if (valued_ && now_ms - value_at_ms_ > stale_ms_) stability_.interrupt();
    unit_ = reading.unit;
    valued_ = true;
    value_at_ms_ = now_ms;
    stability_.add(now_ms, *reading.value, reading.resolution, reading.moving);
  } else {
    stability_.interrupt();
  }
  last_ = reading;
  any_ = true;
  news_at_ms_ = now_ms;
}

Quality PlaceRecord::quality_at(std::int64_t now_ms) const {
  if (!any_) return Quality::silent;
  if (now_ms - news_at_ms_ > stale_ms_) return Quality::stale;
  if (!last_.value) return Quality::bad;
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
