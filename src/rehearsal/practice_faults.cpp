// What goes wrong with a practice site, and mends again.
#include <algorithm>
#include <cmath>
#include <utility>

#include "rehearsal/practice.h"

namespace weighwright::rehearsal {
namespace {

// Hand estimates, no source.
constexpr double kTouch_N_per_m = 50e6;       // debris under a girder
constexpr double kMostWorn_m = 30e-3;         // of a bearing's seat
constexpr double kSoftPier = 0.5;             // stiffness of a stand whose pier sank, relative
constexpr double kBesideStand_m = 0.5;        // where a bind near a stand touches
constexpr double kBindFrom = 0.4;             // of that load: from there on it touches
constexpr double kSinks_per_h = 0.1 / 720.0;  // of its size: a tenth a month
constexpr int kDraws = 6;

bool same_places(const Fault& fault, const std::vector<std::string>& places) {
  return places.empty() || fault.places == places;
}

}  // namespace

Fault PracticeSite::strike(const Fault& fault) {
  Struck struck;
  struck.fault = filled_in(described_, fault, seed_);
  chance::SeedHash hash;
  hash.add(struck.fault.code);
  for (const std::string& place : struck.fault.places) hash.add(place);
  chance::CounterRandom random(seed_ ^ hash.value());
  for (int i = 0; i < kDraws; ++i) struck.draws.push_back(random.uniform());
  struck.trims = trims_;
  struck.kg_per_V_per_V = kg_per_V_per_V_;
  struck.since_h = hours_;
  PracticeSite before = *this;
  try {
    // The same fault again replaces what was there.
    std::erase_if(struck_, [&](const Struck& old) {
      return old.fault.code == struck.fault.code && old.fault.places == struck.fault.places;
    });
    alter();
    lay(struck);
    struck_.push_back(struck);
    alter();
    if (fault.code == "trimmed_out") trim_true(usual_load_kg());
    if (const auto end = end_of(struck.fault.places.empty() ? "" : struck.fault.places.front());
        fault.code == "end_packed" && end) {
      // Packed in the heat: at first the end hangs in it.
      const double limit_N = friction_limit_N(*end);
      const std::size_t left = *end == 0 ? 0 : 2;
      friction_N_.at(left) = limit_N * (0.3 + 0.5 * struck.draws[0]);
      friction_N_.at(left + 1) = limit_N * (0.3 + 0.5 * struck.draws[1]);
    }
    slip_ends();
    if (fault.code == "rocker_tilted") way_ = struck.draws[0] < 0.5 ? 1 : -1;
    (void)still({});  // throws when it could not stand
  } catch (...) {
    *this = std::move(before);
    throw;
  }
  return struck.fault;
}

bool PracticeSite::mend(const std::string& code, const std::vector<std::string>& places) {
  const auto mended = [&](const Struck& struck) {
    return struck.fault.code == code && same_places(struck.fault, places);
  };
  const auto first = std::find_if(struck_.begin(), struck_.end(), mended);
  if (first == struck_.end()) return false;
  if (code == "trimmed_out") {
    trims_ = first->trims;
    kg_per_V_per_V_ = first->kg_per_V_per_V;
  }
  if (code == "shocked") creep_N_.setZero();
  std::erase_if(struck_, mended);
  for (std::size_t k = 0; k < friction_N_.size(); ++k) {
    const double limit_N = friction_limit_N(k < 2 ? 0 : 1);
    friction_N_.at(k) = std::clamp(friction_N_.at(k), -limit_N, limit_N);
  }
  alter();
  slip_ends();
  return true;
}

std::vector<Fault> PracticeSite::faults() const {
  std::vector<Fault> list;
  for (const Struck& struck : struck_) list.push_back(struck.fault);
  return list;
}

bool PracticeSite::has(std::string_view code) const {
  return find(code) != nullptr;
}

const PracticeSite::Struck* PracticeSite::find(std::string_view code) const {
  for (const Struck& struck : struck_) {
    if (struck.fault.code == code) return &struck;
  }
  return nullptr;
}

bool PracticeSite::at_place(std::string_view code, const std::string& place) const {
  return std::any_of(struck_.begin(), struck_.end(), [&](const Struck& struck) {
    const std::vector<std::string>& places = struck.fault.places;
    return struck.fault.code == code &&
           std::find(places.begin(), places.end(), place) != places.end();
  });
}

/// What lies under the deck, from what was found when it came there.
void PracticeSite::lay(Struck& struck) {
  const Fault& fault = struck.fault;
  if (fault.code == "bearing_hangs") {
    const BearingPlace place = *bearing_of(described_, fault.places.front());
    WornBearing worn{.joint = place.joint, .side = place.side, .worn_m = 0.0};
    worn.worn_m = statics_.worn_for_air(worn, *fault.size * 1e-3, kMostWorn_m, tops_m());
    struck.worn = worn;
  }
  if (fault.code == "deck_touches") {
    const GirderPlace place = *girder_of(described_, fault.places.front());
    const units::Side drawn = struck.draws[0] < 0.5 ? units::Side::left : units::Side::right;
    Touch touch{.module = place.module,
                .x_m = statics_.free_middle_m(place.module),
                .side = place.side.value_or(drawn),
                .air_m = *fault.size * 1e-3,
                .level_m = 0.0,
                .stiffness_N_per_m = kTouch_N_per_m};
    touch.level_m = statics_.girder_m(touch, laden({}), tops_m()) - touch.air_m;
    struck.touch = touch;
  }
  if (fault.code == "trimmed_out") {
    struck.touch = bind_at(*stand_of(described_, fault.places.front()), *fault.size);
  }
}

/// The bind near a stand touches from part of a load on and takes its size (percent) of the whole:
/// its spring is in series with nothing worth counting.
Touch PracticeSite::bind_at(units::StandIndex stand, double percent) const {
  const deck::Deck& deck = statics_.deck();
  const deck::Section& section = deck.sections[static_cast<std::size_t>(stand.section().value)];
  const double length_m = deck.modules[static_cast<std::size_t>(section.module.value)].length_m;
  const double middle_m = deck.start_m(section.module) + length_m / 2.0;
  const double inward_m = section.at_m < middle_m ? kBesideStand_m : -kBesideStand_m;
  Touch touch{.module = section.module.value,
              .x_m = statics_.off_stands_m(section.at_m + inward_m),
              .side = stand.side(),
              .air_m = 0.0,
              .level_m = 0.0,
              .stiffness_N_per_m = kTouch_N_per_m};
  record::LoadPlace over;
  over.kind = record::LoadPlace::Kind::stand;
  over.stand = stand;
  const double load_kg = usual_load_kg();
  const double empty_m = statics_.girder_m(touch, laden({}), tops_m());
  const double loaded_m = statics_.girder_m(touch, laden(live(over, load_kg, 0, 0)), tops_m());
  const double sinks_m = std::max(empty_m - loaded_m, 1e-6);
  touch.level_m = empty_m - kBindFrom * sinks_m;
  touch.stiffness_N_per_m =
      percent / 100.0 * load_kg * described_.site.gravity_m_per_s2 / ((1.0 - kBindFrom) * sinks_m);
  return touch;
}

void PracticeSite::alter() {
  Alterations alterations;
  alterations.stand_softer.assign(described_.stands.size(), 1.0);
  alterations.twist_factors.assign(described_.modules.size(), 1.0);
  for (const Struck& struck : struck_) {
    const Fault& fault = struck.fault;
    if (struck.worn) alterations.worn.push_back(*struck.worn);
    if (struck.touch) alterations.touches.push_back(*struck.touch);
    if (fault.code == "stand_sunk") {
      const auto stand = stand_of(described_, fault.places.front());
      alterations.stand_softer[static_cast<std::size_t>(stand->value)] *= kSoftPier;
    }
    if (fault.code == "bolts_loose") {
      const auto girder = girder_of(described_, fault.places.front());
      alterations.twist_factors[static_cast<std::size_t>(girder->module)] *= *fault.size;
    }
  }
  statics_.alter(std::move(alterations));
}

Eigen::VectorXd PracticeSite::tops_m() const {
  Eigen::VectorXd tops = heights_m_;
  for (const Struck& struck : struck_) {
    if (struck.fault.code != "stand_sunk") continue;
    const double grown = 1.0 + kSinks_per_h * (hours_ - struck.since_h);
    tops(stand_of(described_, struck.fault.places.front())->value) -=
        grown * *struck.fault.size * 1e-3;
  }
  return tops;
}

void PracticeSite::slip_ends() {
  const Standing standing = still({});
  const Eigen::Index last = standing.top_m.size() - 2;
  for (Eigen::Index side = 0; side < 2; ++side) {
    rub_top_m_[static_cast<std::size_t>(side)] = standing.top_m(side);
    rub_top_m_[static_cast<std::size_t>(2 + side)] = standing.top_m(last + side);
  }
}

}  // namespace weighwright::rehearsal
