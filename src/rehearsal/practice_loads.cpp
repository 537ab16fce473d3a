// Loads on a practice site, what its display shows, and the friction that remembers.
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "rehearsal/practice.h"

namespace weighwright::rehearsal {
namespace {

using Eigen::VectorXd;
using record::Going;
using record::LoadPlace;
using record::LoadReading;

// Hand estimates, no source.
constexpr double kStick = 0.3;            // stiffness of packed dirt against that of a stand
constexpr double kFriction_per_K = 0.05;  // relative, above 20 degC: the deck grows into it
constexpr double kLeastFriction = 0.1;    // of its size, in the cold
constexpr double kCreep = 0.006;          // of the load, of a shocked cell
constexpr double kCreepTime_h = 0.1;
constexpr double kSwallowed_of_d = 2.0;      // what zero tracking swallows
constexpr double kPlacement_h = 5.0 / 60.0;  // to put a load down, read, and take it off
constexpr double kPass_h = 4.0 / 60.0;
constexpr double kLook_h = 2.0 / 60.0;
constexpr double kDownFrom = 1.5;  // going down starts from so much of the load
constexpr double kFine_of_d = 0.1;
constexpr double kLooseNoise = 3.0;
constexpr double kSunkNoise = 1.5;
constexpr int kMostSlips = 60;
constexpr double kSettled_N = 0.01;
constexpr std::int64_t kStart_s = 1780300800;  // 2026-06-01T08:00
constexpr double kHour_s = 3600.0;

double rounded(double value, double step) {
  return std::round(value / step) * step;
}

}  // namespace

double PracticeSite::friction_limit_N(int end) const {
  double limit_N = 0.0;
  for (const Struck& struck : struck_) {
    if (struck.fault.code != "end_packed" || end_of(struck.fault.places.front()) != end) continue;
    limit_N += *struck.fault.size * 1e3 *
               std::max(kLeastFriction, 1.0 + kFriction_per_K * (steel_degC_ - 20.0));
  }
  return limit_N;
}

/// Everything that presses on the deck beside its weight, friction as it is.
Laden PracticeSite::laden(const std::vector<statics::PointLoad>& live) const {
  const deck::Deck& deck = statics_.deck();
  const double g = deck.site.gravity_m_per_s2;
  Laden laden;
  laden.points = live;
  laden.module_N.assign(deck.modules.size(), 0.0);
  const auto at_stand = [&](int stand, double force_N) {
    const units::StandIndex index{stand};
    laden.points.push_back({deck.sections[static_cast<std::size_t>(index.section().value)].at_m,
                            deck.stand_y_m(index), force_N});
  };
  for (const Struck& struck : struck_) {
    const Fault& fault = struck.fault;
    if (fault.code == "foreign_load") {
      const int module = girder_of(described_, fault.places.front())->module;
      laden.module_N[static_cast<std::size_t>(module)] += *fault.size * g;
    }
    if (fault.code == "panel_missing") {
      const int module = girder_of(described_, fault.places.front())->module;
      const double start_m = deck.start_m(units::ModuleIndex{module});
      const double length_m = deck.modules[static_cast<std::size_t>(module)].length_m;
      const double along = struck.draws[0] < 0.5 ? 0.07 : 0.93;
      laden.points.push_back({start_m + along * length_m, 0.0, -*fault.size * g});
    }
    if (fault.code == "rocker_tilted") {
      at_stand(stand_of(described_, fault.places.front())->value, way_ * *fault.size * g);
    }
  }
  for (int k = 0; k < 4; ++k) {
    const double force_N = friction_N_[static_cast<std::size_t>(k)];
    if (force_N != 0.0) at_stand(k < 2 ? k : deck.stand_count() - 4 + k, -force_N);
  }
  return laden;
}

std::vector<statics::PointLoad> PracticeSite::live(const LoadPlace& place,
                                                   double load_kg,
                                                   double off_x_m,
                                                   double off_y_m) const {
  const Corners::Spot spot = corners_.spot_of(place);
  return {{spot.x_m + off_x_m, spot.y_m + off_y_m, load_kg * described_.site.gravity_m_per_s2}};
}

Standing PracticeSite::still(const std::vector<statics::PointLoad>& live) const {
  return statics_.stand(laden(live), tops_m());
}

/// The deck under a load, packed ends sticking and slipping on the way there.
Standing PracticeSite::settle(const std::vector<statics::PointLoad>& live) {
  const std::array<double, 4> before_N = friction_N_;
  Standing standing = still(live);
  if (!has("end_packed")) return standing;
  const VectorXd& stiffness = statics_.stiffness_N_per_m();
  for (int slip = 0; slip < kMostSlips; ++slip) {
    double most_N = 0.0;
    for (int k = 0; k < 4; ++k) {
      const auto here = static_cast<std::size_t>(k);
      const int stand = k < 2 ? k : described_.stand_count() - 4 + k;
      const double limit_N = friction_limit_N(k / 2);
      const double sunk_m = rub_top_m_[here] - standing.top_m(stand);
      const double force_N =
          std::clamp(before_N[here] + kStick * stiffness(stand) * sunk_m, -limit_N, limit_N);
      most_N = std::max(most_N, std::abs(force_N - friction_N_[here]));
      friction_N_[here] = force_N;
    }
    standing = still(live);
    if (most_N < kSettled_N) break;
  }
  for (int k = 0; k < 4; ++k) {
    const int stand = k < 2 ? k : described_.stand_count() - 4 + k;
    rub_top_m_[static_cast<std::size_t>(k)] = standing.top_m(stand);
  }
  return standing;
}

/// A shocked cell follows its load slowly.
void PracticeSite::creep(const VectorXd& stand_N, double hours) {
  if (!has("shocked")) return;
  const VectorXd dead_N = still({}).stand_N;
  const double share = 1.0 - std::exp(-hours / kCreepTime_h);
  for (const Struck& struck : struck_) {
    if (struck.fault.code != "shocked") continue;
    const int stand = stand_of(described_, struck.fault.places.front())->value;
    const double goal_N = kCreep * (stand_N(stand) - dead_N(stand));
    creep_N_(stand) += share * (goal_N - creep_N_(stand));
  }
}

double PracticeSite::step_kg(Look look) const {
  const double d = described_.display_kg() > 0.0 ? described_.display_kg() : 10.0;
  return look == Look::display ? d : kFine_of_d * d;
}

/// What is loose rattles.
double PracticeSite::noise_factor() const {
  return has("bolts_loose") ? kLooseNoise : has("stand_sunk") ? kSunkNoise : 1.0;
}

double PracticeSite::shown_zero_kg(double step) {
  const double d = step_kg(Look::display);
  const double raw = raw_kg(settle({}).stand_N);
  if (has("tracking_on")) zero_kg_ = raw;
  const double noise = spread_.corners.zero_drift_of_d * d * noise_factor() * day_.normal();
  const double shown = rounded(raw - zero_kg_ + noise, step);
  return has("tracking_on") ? 0.0 : shown;
}

double PracticeSite::shown_load_kg(const std::vector<statics::PointLoad>& live,
                                   double step,
                                   bool& small) {
  const double d = step_kg(Look::display);
  std::vector<statics::PointLoad> all = live;
  if (const auto people = crew(); people && day_.uniform() < 0.7) {
    // They came to look: near the load, now one, now several.
    statics::PointLoad near = *people;
    near.x_m = live.front().x_m;
    near.y_m = live.front().y_m;
    near.force_N *= day_.uniform();
    all.push_back(near);
  }
  const Standing standing = settle(all);
  creep(standing.stand_N, kPlacement_h / 2.0);
  const double noise = spread_.corners.repeatability_of_d * d * noise_factor() * day_.normal();
  const double kg = raw_kg(standing.stand_N) - zero_kg_ + noise;
  small = has("tracking_on") && std::abs(kg) <= kSwallowed_of_d * d;
  return small ? 0.0 : rounded(kg, step);
}

std::string PracticeSite::refuses_load(const LoadPlace& place, double load_kg) const {
  if (!grouted_) {
    return "no load on a deck whose stands are not grouted: it can shift and fall";
  }
  if (!(load_kg > 0.0) || !std::isfinite(load_kg)) return "a load is more than 0 kg";
  if (described_.capacity_kg > 0.0 && load_kg > described_.capacity_kg) {
    return "the load is more than Max of the deck";
  }
  return statics_.refuses(laden(live(place, kDownFrom * load_kg, 0.0, 0.0)), tops_m());
}

LoadReading PracticeSite::place(const LoadPlace& place, double load_kg, Going going, Look look) {
  const std::string no = refuses_load(place, load_kg);
  if (!no.empty()) throw std::invalid_argument("rehearsal: " + no);
  const double step = step_kg(look);
  const double off_m = spread_.corners.load_place_m;
  std::vector<statics::PointLoad> load =
      live(place, load_kg, off_m * day_.normal(), off_m * day_.normal());
  if (!statics_.refuses(laden(load), tops_m()).empty()) load = live(place, load_kg, 0.0, 0.0);
  other_answers_ = day_.uniform() < 0.5;
  LoadReading reading;
  reading.place = place;
  reading.load_kg = load_kg;
  reading.going = going;
  reading.last_digit_kg = step;
  reading.resolution_kg = step;
  reading.zero_before_kg = shown_zero_kg(step);
  if (going == Going::down) {
    std::vector<statics::PointLoad> more = load;
    more.front().force_N *= kDownFrom;
    creep(settle(more).stand_N, kPlacement_h / 2.0);
  }
  elapse(kPlacement_h / 2.0);
  bool small = false;
  reading.indication_kg = shown_load_kg(load, step, small);
  elapse(kPlacement_h / 2.0);
  if (small) zero_kg_ = raw_kg(settle(load).stand_N);
  reading.zero_after_kg = shown_zero_kg(step);
  return reading;
}

record::ShiftSet PracticeSite::corners(double load_kg, Going going, Look look) {
  record::ShiftSet set;
  set.source = "practice site";
  for (int i = 0; i < described_.stand_count(); ++i) {
    LoadPlace over;
    over.kind = LoadPlace::Kind::stand;
    over.stand = units::StandIndex{i};
    over.typed = units::print(over.stand);
    set.readings.push_back(place(over, load_kg, going, look));
  }
  return set;
}

record::ShiftSet PracticeSite::steps(const LoadPlace& place,
                                     const std::vector<double>& loads_kg,
                                     Look look) {
  record::ShiftSet set;
  set.source = "practice site";
  std::vector<double> up = loads_kg;
  std::sort(up.begin(), up.end());
  for (const double load_kg : up) {
    const std::string no = refuses_load(place, load_kg);
    if (!no.empty()) throw std::invalid_argument("rehearsal: " + no);
  }
  const double step = step_kg(look);
  const double off_x_m = spread_.corners.load_place_m * day_.normal();
  const double off_y_m = spread_.corners.load_place_m * day_.normal();
  const double before_kg = shown_zero_kg(step);
  const auto read = [&](double load_kg, Going going) {
    elapse(kPlacement_h);
    other_answers_ = day_.uniform() < 0.5;
    bool small = false;
    LoadReading reading;
    reading.place = place;
    reading.load_kg = load_kg;
    reading.going = going;
    reading.last_digit_kg = step;
    reading.resolution_kg = step;
    std::vector<statics::PointLoad> load = live(place, load_kg, off_x_m, off_y_m);
    if (!statics_.refuses(laden(load), tops_m()).empty()) load = live(place, load_kg, 0.0, 0.0);
    reading.indication_kg = shown_load_kg(load, step, small);
    set.readings.push_back(reading);
  };
  for (const double load_kg : up) read(load_kg, Going::up);
  for (std::size_t i = up.size() - 1; i-- > 0;) read(up[i], Going::down);
  const double after_kg = shown_zero_kg(step);
  for (LoadReading& reading : set.readings) {
    reading.zero_before_kg = before_kg;
    reading.zero_after_kg = after_kg;
  }
  return set;
}

record::LoadSet PracticeSite::loads(const std::vector<double>& loads_kg, Look look) {
  record::LoadSet set;
  set.source = "practice site";
  for (const double load_kg : loads_kg) {
    LoadReading reading = place({}, load_kg, Going::unknown, look);
    set.readings.push_back(reading);
  }
  return set;
}

LoadReading PracticeSite::drive_on(const LoadPlace& place,
                                   double load_kg,
                                   bool from_end_1,
                                   Look look) {
  const std::string no = refuses_load(place, load_kg);
  if (!no.empty()) throw std::invalid_argument("rehearsal: " + no);
  const double step = step_kg(look);
  LoadReading reading;
  reading.place = place;
  reading.load_kg = load_kg;
  reading.last_digit_kg = step;
  reading.resolution_kg = step;
  reading.test = from_end_1 ? "from end 1" : "from end 2";
  other_answers_ = day_.uniform() < 0.5;
  reading.zero_before_kg = shown_zero_kg(step);
  way_ = from_end_1 ? 1 : -1;
  elapse(kPass_h);
  bool small = false;
  reading.indication_kg = shown_load_kg(live(place, load_kg, 0.0, 0.0), step, small);
  elapse(kPass_h);
  reading.zero_after_kg = shown_zero_kg(step);
  return reading;
}

record::ZeroReading PracticeSite::zero_row(record::ZeroReading::After after, Look look) {
  elapse(kLook_h);
  other_answers_ = day_.uniform() < 0.5;
  record::ZeroReading row;
  row.last_digit_kg = step_kg(look);
  row.zero_kg = shown_zero_kg(row.last_digit_kg);
  row.time_s = kStart_s + 60 * std::llround(hours_ * kHour_s / 60.0);
  row.temp_degC = std::round(steel_degC_);
  row.rain = weather_.rain;
  row.after = after;
  return row;
}

record::ZeroReading PracticeSite::zero(Look look) {
  return zero_row(record::ZeroReading::After::nothing, look);
}

void PracticeSite::press_zero() {
  const double d = step_kg(Look::display);
  zero_kg_ =
      raw_kg(settle({}).stand_N) + spread_.corners.zero_set_of_d * d * (2.0 * day_.uniform() - 1.0);
}

record::ZeroReading PracticeSite::pass(bool from_end_1, double load_kg, Look look) {
  using After = record::ZeroReading::After;
  const std::string no = refuses_load({}, load_kg);
  if (!no.empty()) throw std::invalid_argument("rehearsal: " + no);
  elapse(kPass_h);
  const double length_m = described_.length_m();
  for (const double along : {0.1, 0.3, 0.5, 0.7, 0.9}) {
    LoadPlace here;
    here.kind = LoadPlace::Kind::point;
    here.x_m = length_m * (from_end_1 ? along : 1.0 - along);
    const auto load = live(here, load_kg, 0.0, 0.0);
    if (statics_.refuses(laden(load), tops_m()).empty()) (void)settle(load);
  }
  way_ = from_end_1 ? 1 : -1;
  // Braking pushes the deck along: what is packed at its ends slips anew.
  for (int k = 0; k < 4; ++k) {
    friction_N_[static_cast<std::size_t>(k)] =
        friction_limit_N(k / 2) * (1.2 * day_.uniform() - 0.4);
  }
  slip_ends();
  return zero_row(from_end_1 ? After::pass_1_to_2 : After::pass_2_to_1, look);
}

record::ZeroReading PracticeSite::rock(Look look) {
  for (int k = 0; k < 4; ++k) {
    const double slips = day_.uniform() - 0.5;
    friction_N_[static_cast<std::size_t>(k)] =
        std::min(0.4 * friction_limit_N(k / 2), friction_limit_N(k / 2)) * slips;
  }
  slip_ends();
  return zero_row(record::ZeroReading::After::rocked, look);
}

VectorXd PracticeSite::true_forces_N() const {
  return still({}).stand_N;
}

VectorXd PracticeSite::true_forces_N(const LoadPlace& place, double load_kg) const {
  return still(live(place, load_kg, 0.0, 0.0)).stand_N;
}

double PracticeSite::true_indication_kg(const LoadPlace& place, double load_kg) const {
  return raw_kg(still(live(place, load_kg, 0.0, 0.0)).stand_N) - raw_kg(still({}).stand_N);
}

Standing PracticeSite::true_standing() const {
  return still({});
}

/// People who stand on the deck while it is read.
std::optional<statics::PointLoad> PracticeSite::crew() const {
  const Struck* const struck = find("people_on_deck");
  if (struck == nullptr) return {};
  const deck::Deck& deck = statics_.deck();
  const double y_m = 0.3 * deck.modules.front().width_m * (2.0 * struck->draws[1] - 1.0);
  return statics::PointLoad{deck.length_m() * (0.05 + 0.9 * struck->draws[0]), y_m,
                            *struck->fault.size * deck.site.gravity_m_per_s2};
}

}  // namespace weighwright::rehearsal
