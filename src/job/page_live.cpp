#include "job/page_live.h"

#include <algorithm>
#include <cmath>
#include <mutex>
#include <utility>

#include "link/station.h"
#include "report/live_view.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

const char* name_of(deck::LiveUnit unit) {
  switch (unit) {
    case deck::LiveUnit::mV:
      return "mV";
    case deck::LiveUnit::mV_per_V:
      return "mV_per_V";
    case deck::LiveUnit::counts:
      return "counts";
    case deck::LiveUnit::kg:
      return "kg";
    case deck::LiveUnit::lb:
      break;
  }
  return "lb";
}

const char* name_of(link::Quality quality) {
  switch (quality) {
    case link::Quality::stable:
      return "stable";
    case link::Quality::moving:
      return "moving";
    case link::Quality::stale:
      return "stale";
    case link::Quality::bad:
      return "bad";
    case link::Quality::unexplained:
      return "unexplained";
    case link::Quality::silent:
      break;
  }
  return "silent";
}

const char* name_of(link::LinkState state) {
  switch (state) {
    case link::LinkState::connecting:
      return "connecting";
    case link::LinkState::connected:
      return "connected";
    case link::LinkState::waiting:
      return "waiting";
    case link::LinkState::refused:
      break;
  }
  return "refused";
}

/// The mean of many values says one digit more than one of them, or as many as its standard
/// deviation needs.
std::string print_mean(double mean, double resolution, double u_mean) {
  constexpr int kMostDecimals = 9;
  double step = resolution / 10.0;
  if (u_mean > 0.0 && (step <= 0.0 || u_mean / 3.0 < step)) step = u_mean / 3.0;
  if (!(step > 0.0)) return units::print_exact(mean);
  const int decimals = static_cast<int>(std::ceil(-std::log10(step) - 1e-9));
  return units::print_fixed(mean, std::clamp(decimals, 0, kMostDecimals));
}

report::LiveValueView view_of(const link::LiveValue& value) {
  return {.place = value.place,
          .unit = name_of(value.unit),
          .value = value.value,
          .shown = value.typed,
          .resolution = value.resolution,
          .quality = name_of(value.quality),
          .says = value.says,
          .age_ms = value.age_ms,
          .mean = value.mean,
          .noise = value.noise,
          .u_mean = value.u_mean,
          .samples = value.samples,
          .shown_mean = value.mean
                            ? print_mean(*value.mean, value.resolution, value.u_mean.value_or(0.0))
                            : std::string()};
}

bool same(const deck::Register& a, const deck::Register& b) {
  return a.place == b.place && a.unit == b.unit && a.address == b.address && a.table == b.table &&
         a.type == b.type && a.word_order == b.word_order && a.byte_order == b.byte_order &&
         a.scale == b.scale && a.step == b.step;
}

bool same(const deck::Instrument& a, const deck::Instrument& b) {
  return a.name == b.name && a.kind == b.kind && a.host == b.host && a.port == b.port &&
         a.device == b.device && a.baud == b.baud && a.parity == b.parity &&
         a.data_bits == b.data_bits && a.stop_bits == b.stop_bits && a.unit == b.unit &&
         a.every_s == b.every_s && a.timeout_s == b.timeout_s && a.stale_s == b.stale_s &&
         a.step_kg == b.step_kg &&
         std::equal(a.registers.begin(), a.registers.end(), b.registers.begin(), b.registers.end(),
                    [](const auto& x, const auto& y) { return same(x, y); });
}

}  // namespace

struct PageLive::State {
  mutable std::mutex mutex;
  std::string journal;
  std::vector<deck::Instrument> instruments;
  std::vector<deck::Instrument> waiting;
  std::vector<std::vector<link::PlaceLimits>> limits;
  std::unique_ptr<link::Station> station;
};

PageLive::PageLive() : state_(std::make_unique<State>()) {}
PageLive::~PageLive() = default;

std::string PageLive::address_of(const deck::Instrument& instrument) {
  return link::address_of(instrument);
}

void PageLive::read(const std::vector<deck::Instrument>& instruments,
                    const std::vector<std::vector<link::PlaceLimits>>& limits,
                    const std::vector<deck::Instrument>& waiting) {
  const std::scoped_lock lock(state_->mutex);
  state_->waiting = waiting;
  const std::vector<deck::Instrument>& now = state_->instruments;
  const bool as_before = state_->limits == limits;
  if (as_before && std::equal(now.begin(), now.end(), instruments.begin(), instruments.end(),
                              [](const auto& a, const auto& b) { return same(a, b); })) {
    return;
  }
  state_->station.reset();
  state_->instruments = instruments;
  state_->limits = limits;
  if (!instruments.empty()) state_->station = std::make_unique<link::Station>(instruments, limits);
}

void PageLive::name_journal(const std::string& journal) {
  const std::scoped_lock lock(state_->mutex);
  state_->journal = journal;
}

std::string PageLive::json() const {
  report::LiveView view;
  const std::scoped_lock lock(state_->mutex);
  view.journal = state_->journal;
  if (state_->station) {
    for (const link::InstrumentNow& now : state_->station->look()) {
      view.instruments.push_back({.name = now.name,
                                  .address = now.address,
                                  .state = name_of(now.state),
                                  .says = now.says,
                                  .next_try_ms = now.next_try_ms});
      for (const link::LiveValue& value : now.values) view.values.push_back(view_of(value));
    }
  }
  for (const deck::Instrument& one : state_->waiting) {
    view.instruments.push_back(
        {.name = one.name,
         .address = address_of(one),
         .state = "not_allowed",
         .says = "the deck file names it, and nobody at the serving machine has said yes to it",
         .next_try_ms = 0});
  }
  return report::print_json(view);
}

}  // namespace weighwright::job
