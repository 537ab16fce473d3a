#include "rehearsal/site.h"

#include <cmath>
#include <stdexcept>
#include <utility>

#include "chance/counter_random.h"
#include "signal/cell.h"

namespace weighwright::rehearsal {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

}  // namespace

Site::Site(const deck::Deck& deck, const Spread& spread, std::uint64_t seed)
    : described_(deck), spread_(spread), key_(seed), truth_(deck) {
  for (int i = 0; i < static_cast<int>(truth_.modules.size()); ++i) {
    deck::Module& module = truth_.modules[at(i)];
    module.twisting_Nm2 *= factor(spread.twist_factor);
    module.bending_Nm2 *= factor(spread.bend_factor);
    module.mass_kg *= 1.0 + spread.mass * normal();
    if (module.crossbeam_bending_Nm2 == deck::kRigid) {
      module.crossbeams = 7;
      module.crossbeam_bending_Nm2 = 150e6 * factor(1.3);
    }
    // A centre of gravity beside the middle is a couple of two equal and opposite loads.
    const double y_m = module.girders_m.front();
    const double couple_N =
        module.mass_kg * deck.site.gravity_m_per_s2 * spread.side_m * normal() / (2.0 * y_m);
    const double x_m = truth_.start_m(units::ModuleIndex{i}) + module.length_m / 2.0;
    couples_.push_back({x_m, y_m, couple_N});
    couples_.push_back({x_m, -y_m, -couple_N});
  }
  for (deck::Section& section : truth_.sections) {
    const double moved = section.at_m + spread.place_m * normal();
    const double start = truth_.start_m(section.module);
    const double end = start + truth_.modules[at(section.module.value)].length_m;
    bool shared = false;
    for (int joint = 0; joint < static_cast<int>(truth_.joints.size()); ++joint) {
      shared |= truth_.joints[at(joint)].kind == deck::JointKind::shared_stand &&
                std::abs(truth_.joint_m(joint) - section.at_m) < 2e-3;
    }
    if (!shared && moved > start && moved < end) section.at_m = moved;
  }
  for (deck::Stand& stand : truth_.stands) {
    const double cell_N_per_m =
        stand.cell.capacity_kg * 9.80665 / std::max(stand.cell.deflection_m, 1e-9);
    const double stiffness = 1.0 / (1.0 / cell_N_per_m + 1.0 / stand.foundation_N_per_m);
    const double truth = stiffness * factor(spread.stand_factor);
    stand.cell.deflection_m = stand.cell.capacity_kg * 9.80665 / truth;
    stand.foundation_N_per_m = deck::kRigid;
  }
  statics::BuiltModel built = statics::build_model(truth_);
  if (!built.model) {
    throw std::invalid_argument("rehearsal::Site: the deck can not stand: " +
                                built.faults.front().what);
  }
  model_ = std::move(*built.model);
  const statics::BuiltLoad sides = statics::point_loads(model_, couples_);
  load_ = sides.load ? statics::add(model_.dead, *sides.load) : model_.dead;
  heights_m_.resize(deck.stand_count());
  zero_V_.resize(deck.stand_count());
  for (int i = 0; i < deck.stand_count(); ++i) {
    heights_m_(i) = spread.height_m * normal();
    const deck::Cell& cell = deck.stands[at(i)].cell;
    zero_V_(i) = spread.zero * cell.output_V_per_V * deck.excitation_V * normal();
  }
  settle();
}

double Site::normal() {
  // One generator a draw: the site's answers depend on how often it was asked, and on nothing else.
  chance::CounterRandom random(key_ ^ (0xd1342543de82ef95ULL * ++counter_));
  return random.normal();
}

double Site::factor(double spread) {
  return std::exp(std::log(spread) * normal());
}

void Site::settle() {
  state_ = statics::solve_contact(model_, load_, heights_m_, statics::nominal(model_));
  if (state_.status != statics::ContactStatus::solved) {
    throw std::runtime_error("rehearsal::Site: " + state_.what);
  }
}

double Site::rounded_mV(double volts) const {
  return std::round(volts / spread_.resolution_V) * spread_.resolution_V * 1e3;
}

record::ReadingSet Site::read(bool with_no_load) {
  record::ReadingSet set;
  set.source = "practice site";
  for (int i = 0; i < described_.stand_count(); ++i) {
    const double signal_V =
        signal::signal_V(described_.stands[at(i)].cell, described_.excitation_V, state_.stand_N(i));
    record::StandReading reading;
    reading.stand = units::StandIndex{i};
    reading.value = rounded_mV(signal_V + zero_V_(i) + spread_.noise_V * normal());
    if (with_no_load) reading.no_load = rounded_mV(zero_V_(i) + spread_.noise_V * normal());
    reading.resolution = spread_.resolution_V * 1e3;
    set.stands.push_back(reading);
  }
  return set;
}

void Site::turn(const std::vector<record::StandTurn>& turns) {
  for (const record::StandTurn& turn : turns) {
    const deck::Stand& stand = described_.stands[at(turn.stand.value)];
    const double raise_m =
        turn.turns ? *turn.turns * stand.pitch_m : turn.shim_mm.value_or(0.0) * 1e-3;
    const double error = turn.turns ? spread_.turn_error : 0.01;
    heights_m_(turn.stand.value) += raise_m * (1.0 + error * normal());
  }
  settle();
}

record::GapSet Site::gaps() {
  record::GapSet set;
  set.source = "practice site";
  for (const int contact : state_.open) {
    const statics::Contact& place = model_.contacts[at(contact)];
    record::Gap gap;
    gap.place.is_bearing = place.is_bearing;
    gap.place.stand = place.stand;
    gap.place.joint = place.joint;
    gap.place.side = place.side;
    const double seen = state_.gap_m(contact) + spread_.gap_m * normal();
    gap.gap_mm = std::max(0.05, std::round(seen / 0.05e-3) * 0.05);
    set.gaps.push_back(gap);
  }
  return set;
}

record::HeightSet Site::survey() {
  record::HeightSet set;
  set.source = "practice site";
  for (int i = 0; i < described_.stand_count(); ++i) {
    set.height_mm.emplace_back((heights_m_(i) + spread_.survey_m * normal()) * 1e3);
  }
  return set;
}

}  // namespace weighwright::rehearsal
