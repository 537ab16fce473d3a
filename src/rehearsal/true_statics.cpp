#include "rehearsal/true_statics.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace weighwright::rehearsal {
namespace {

using Eigen::VectorXd;

constexpr double kOutOfReach_m = 1.0;  // a contact so low that the deck never comes there
constexpr double kApart_m = 0.05;      // the least distance between two pairs of contacts
constexpr double kWideOpen_m = 100.0;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

double cell_N_per_m(double stiffness_N_per_m, deck::Stand& stand) {
  stand.cell.deflection_m = stand.cell.capacity_kg * 9.80665 / stiffness_N_per_m;
  stand.foundation_N_per_m = deck::kRigid;
  return stiffness_N_per_m;
}

double stiffness_of(const deck::Stand& stand) {
  const double yielding =
      stand.cell.deflection_m / (stand.cell.capacity_kg * 9.80665) + 1.0 / stand.foundation_N_per_m;
  return yielding > 0.0 ? 1.0 / yielding : deck::kRigid;
}

/// One more pair of contacts in the deck.
struct Pair {
  deck::Section section;
  int touch = -1;  // -1: a section of the deck itself
  int section_before = 0;
};

}  // namespace

TrueStatics::TrueStatics(const Site& site) : deck_(site.true_deck()), couples_(site.couples()) {
  const statics::Model& model = site.true_model();
  for (std::size_t j = 0; j < deck_.joints.size(); ++j) {
    if (deck_.joints[j].kind == deck::JointKind::hinge) deck_.joints[j].resting = model.resting[j];
  }
  build();
}

void TrueStatics::alter(Alterations alterations) {
  Alterations before = std::exchange(alterations_, std::move(alterations));
  try {
    build();
  } catch (...) {
    alterations_ = std::move(before);
    build();
    throw;
  }
}

double TrueStatics::off_stands_m(double x_m) const {
  const auto taken = [&](double x) {
    const bool stand = std::any_of(
        deck_.sections.begin(), deck_.sections.end(),
        [&](const deck::Section& section) { return std::abs(section.at_m - x) < kApart_m; });
    return stand ||
           std::any_of(alterations_.touches.begin(), alterations_.touches.end(),
                       [&](const Touch& touch) { return std::abs(touch.x_m - x) < kApart_m; });
  };
  while (taken(x_m)) x_m += 2.0 * kApart_m;
  return x_m;
}

double TrueStatics::free_middle_m(int module) const {
  const double start = deck_.start_m(units::ModuleIndex{module});
  std::vector<double> marks = {start, start + deck_.modules[at(module)].length_m};
  for (const deck::Section& section : deck_.sections) {
    if (section.at_m > marks.front() && section.at_m < start + deck_.modules[at(module)].length_m) {
      marks.push_back(section.at_m);
    }
  }
  std::sort(marks.begin(), marks.end());
  double middle = start;
  double longest = 0.0;
  for (std::size_t i = 1; i < marks.size(); ++i) {
    if (marks[i] - marks[i - 1] <= longest) continue;
    longest = marks[i] - marks[i - 1];
    middle = (marks[i] + marks[i - 1]) / 2.0;
  }
  return off_stands_m(middle);
}

deck::Deck TrueStatics::altered_deck() {
  deck::Deck deck = deck_;
  for (std::size_t m = 0; m < alterations_.twist_factors.size(); ++m) {
    deck.modules[m].twisting_Nm2 *= alterations_.twist_factors[m];
  }
  for (std::size_t s = 0; s < alterations_.stand_softer.size(); ++s) {
    const double stiffness = stiffness_of(deck.stands[s]);
    if (alterations_.stand_softer[s] != 1.0) {
      cell_N_per_m(stiffness * alterations_.stand_softer[s], deck.stands[s]);
    }
  }
  std::vector<Pair> pairs;
  for (int s = 0; s < static_cast<int>(deck_.sections.size()); ++s) {
    pairs.push_back({.section = deck_.sections[at(s)], .touch = -1, .section_before = s});
  }
  for (int t = 0; t < static_cast<int>(alterations_.touches.size()); ++t) {
    const Touch& touch = alterations_.touches[at(t)];
    const std::vector<double>& girders = deck_.modules[at(touch.module)].girders_m;
    const double across = *std::max_element(girders.begin(), girders.end()) -
                          *std::min_element(girders.begin(), girders.end());
    pairs.push_back({.section = {touch.x_m, units::ModuleIndex{touch.module}, across},
                     .touch = t,
                     .section_before = 0});
  }
  std::stable_sort(pairs.begin(), pairs.end(),
                   [](const Pair& a, const Pair& b) { return a.section.at_m < b.section.at_m; });
  const std::vector<deck::Stand> own = deck.stands;
  deck.sections.clear();
  deck.stands.clear();
  place_of_stand_.assign(own.size(), 0);
  place_of_touch_.assign(alterations_.touches.size(), 0);
  for (const Pair& pair : pairs) {
    const int first = static_cast<int>(deck.stands.size());
    deck.sections.push_back(pair.section);
    for (int side = 0; side < 2; ++side) {
      if (pair.touch < 0) {
        place_of_stand_[at(2 * pair.section_before + side)] = first + side;
        deck.stands.push_back(own[at(2 * pair.section_before + side)]);
        continue;
      }
      const Touch& touch = alterations_.touches[at(pair.touch)];
      if (side == static_cast<int>(touch.side)) place_of_touch_[at(pair.touch)] = first + side;
      deck::Stand under = own.front();
      cell_N_per_m(touch.stiffness_N_per_m, under);
      deck.stands.push_back(under);
    }
  }
  return deck;
}

void TrueStatics::build() {
  const deck::Deck deck = altered_deck();
  statics::BuiltModel built = statics::build_model(deck);
  if (!built.model) {
    throw std::runtime_error("rehearsal: the deck can not stand: " + built.faults.front().what);
  }
  model_ = std::move(*built.model);
  stiffness_N_per_m_.resize(deck_.stand_count());
  for (int i = 0; i < deck_.stand_count(); ++i) {
    stiffness_N_per_m_(i) = stiffness_of(deck.stands[at(place_of_stand_[at(i)])]);
  }
}

VectorXd TrueStatics::all_heights(const VectorXd& heights_m) const {
  VectorXd all = VectorXd::Constant(model_.stand_of_contact.rows(), -kOutOfReach_m);
  for (std::size_t i = 0; i < place_of_stand_.size(); ++i) {
    all(place_of_stand_[i]) = heights_m(static_cast<Eigen::Index>(i));
  }
  for (std::size_t t = 0; t < place_of_touch_.size(); ++t) {
    all(place_of_touch_[t]) = alterations_.touches[t].level_m;
  }
  return all;
}

statics::LoadCase TrueStatics::load_of(const Laden& laden, std::string& what) const {
  statics::LoadCase load = model_.dead;
  std::vector<statics::PointLoad> points = couples_;
  points.insert(points.end(), laden.points.begin(), laden.points.end());
  const statics::BuiltLoad built = statics::point_loads(model_, points);
  if (!built.load) {
    what = built.what;
    return load;
  }
  load = statics::add(load, *built.load);
  for (std::size_t m = 0; m < laden.module_N.size(); ++m) {
    if (laden.module_N[m] == 0.0) continue;
    load = statics::add(load, statics::scale(model_.unit_weight[m], laden.module_N[m]));
  }
  for (const WornBearing& bearing : alterations_.worn) {
    for (int c = 0; c < model_.contact_count(); ++c) {
      const statics::Contact& contact = model_.contacts[at(c)];
      if (!contact.is_bearing || contact.joint != bearing.joint || contact.side != bearing.side) {
        continue;
      }
      load.free_m(c) += bearing.worn_m;
      load.free_of_body_m(c, 0) += bearing.worn_m;
    }
  }
  return load;
}

Standing TrueStatics::seen(const statics::ContactState& state, const VectorXd& heights_m) const {
  Standing standing;
  const auto stands = static_cast<Eigen::Index>(place_of_stand_.size());
  standing.stand_N.resize(stands);
  standing.stand_gap_m = VectorXd::Zero(stands);
  standing.top_m.resize(stands);
  for (Eigen::Index i = 0; i < stands; ++i) {
    standing.stand_N(i) = state.stand_N(place_of_stand_[static_cast<std::size_t>(i)]);
  }
  const auto bearings = static_cast<Eigen::Index>(2 * deck_.joints.size());
  standing.bearing_gap_m = VectorXd::Zero(bearings);
  standing.bearing_open.assign(static_cast<std::size_t>(bearings), false);
  std::vector<double> air(static_cast<std::size_t>(stands), kWideOpen_m);
  for (int c = 0; c < model_.contact_count(); ++c) {
    const statics::Contact& contact = model_.contacts[at(c)];
    const bool open = state.contact_N(c) <= 0.0;
    if (contact.is_bearing) {
      const int bearing = 2 * contact.joint + static_cast<int>(contact.side);
      standing.bearing_gap_m(bearing) = open ? state.gap_m(c) : 0.0;
      standing.bearing_open[at(bearing)] = open;
      continue;
    }
    for (std::size_t i = 0; i < place_of_stand_.size(); ++i) {
      if (place_of_stand_[i] == contact.stand.value) air[i] = std::min(air[i], state.gap_m(c));
    }
  }
  for (Eigen::Index i = 0; i < stands; ++i) {
    const double gap = standing.stand_N(i) > 0.0 ? 0.0 : air[static_cast<std::size_t>(i)];
    standing.stand_gap_m(i) = gap;
    standing.top_m(i) = heights_m(i) + gap - standing.stand_N(i) / stiffness_N_per_m_(i);
  }
  return standing;
}

Standing TrueStatics::stand(const Laden& laden, const VectorXd& heights_m) const {
  std::string what;
  const statics::LoadCase load = load_of(laden, what);
  if (!what.empty()) throw std::invalid_argument("rehearsal: " + what);
  const statics::ContactState state =
      statics::solve_contact(model_, load, all_heights(heights_m), statics::nominal(model_));
  if (state.status != statics::ContactStatus::solved) {
    throw std::runtime_error("rehearsal: " + state.what);
  }
  return seen(state, heights_m);
}

std::string TrueStatics::refuses(const Laden& laden, const VectorXd& heights_m) const {
  std::string what;
  const statics::LoadCase load = load_of(laden, what);
  if (!what.empty()) return what;
  const statics::ContactState state =
      statics::solve_contact(model_, load, all_heights(heights_m), statics::nominal(model_));
  return state.status == statics::ContactStatus::solved ? "" : state.what;
}

double TrueStatics::girder_m(const Touch& touch,
                             const Laden& laden,
                             const VectorXd& heights_m) const {
  TrueStatics probe = *this;
  Alterations with = alterations_;
  with.touches.push_back(touch);
  with.touches.back().level_m = -kOutOfReach_m;
  probe.alter(with);
  std::string what;
  const statics::ContactState state =
      statics::solve_contact(probe.model_, probe.load_of(laden, what), probe.all_heights(heights_m),
                             statics::nominal(probe.model_));
  const int place = probe.place_of_touch_.back();
  for (int c = 0; c < probe.model_.contact_count(); ++c) {
    const statics::Contact& contact = probe.model_.contacts[at(c)];
    if (!contact.is_bearing && contact.stand.value == place) {
      return state.gap_m(c) - kOutOfReach_m;
    }
  }
  throw std::logic_error("rehearsal: what touches has no contact");
}

double TrueStatics::worn_for_air(const WornBearing& bearing,
                                 double air_m,
                                 double most_m,
                                 const VectorXd& heights_m) const {
  // Once it hangs, all further wear is air.
  TrueStatics probe = *this;
  Alterations with = alterations_;
  with.worn.push_back(bearing);
  with.worn.back().worn_m = kWideOpen_m;
  probe.alter(with);
  const Standing open = probe.stand({}, heights_m);
  const double closed_m =
      kWideOpen_m - open.bearing_gap_m(2 * bearing.joint + static_cast<int>(bearing.side));
  return std::clamp(closed_m + air_m, 0.0, std::max(most_m, air_m));
}

}  // namespace weighwright::rehearsal
