#include "job/drawn_deck.h"

#include <algorithm>
#include <string>

#include "units/place.h"

namespace weighwright::job {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

const char* name_of(deck::Construction construction) {
  switch (construction) {
    case deck::Construction::open:
      return "open";
    case deck::Construction::cells:
      return "cells";
    case deck::Construction::box:
      return "box";
    case deck::Construction::concrete:
      return "concrete";
    case deck::Construction::unknown:
      break;
  }
  return "unknown";
}

const char* name_of(deck::Adjust adjust) {
  switch (adjust) {
    case deck::Adjust::screws:
      return "screws";
    case deck::Adjust::shims:
      return "shims";
    case deck::Adjust::none:
      break;
  }
  return "none";
}

const char* name_of(deck::JointKind kind) {
  switch (kind) {
    case deck::JointKind::hinge:
      return "hinge";
    case deck::JointKind::rigid:
      return "rigid";
    case deck::JointKind::shared_stand:
      break;
  }
  return "shared_stand";
}

std::string tag_of_cell(const deck::Stand& stand) {
  if (!stand.cell.terminal.empty()) return "terminal " + stand.cell.terminal;
  if (!stand.cell.address.empty()) return "address " + stand.cell.address;
  return "";
}

void draw_modules(const deck::Deck& deck, report::DrawnDeck& plan) {
  for (int i = 0; i < static_cast<int>(deck.modules.size()); ++i) {
    const deck::Module& module = deck.modules[at(i)];
    const double start_m = deck.start_m({i});
    plan.modules.push_back({.mark = module.mark,
                            .start_m = start_m,
                            .end_m = start_m + module.length_m,
                            .width_m = module.width_m,
                            .construction = name_of(module.construction)});
    plan.width_m = std::max(plan.width_m, module.width_m);
  }
  for (int i = 0; i < static_cast<int>(deck.joints.size()); ++i) {
    const deck::Joint& joint = deck.joints[at(i)];
    const bool hinge = joint.kind == deck::JointKind::hinge;
    const std::string whole = joint.kind == deck::JointKind::rigid ? "rigid" : "none";
    std::string rests;
    if (hinge && joint.resting) {
      const int other = joint.resting->value == i ? i + 1 : i;
      rests = deck.modules[at(joint.resting->value)].mark + " on " + deck.modules[at(other)].mark;
    }
    plan.joints.push_back({.at_m = deck.joint_m(i),
                           .kind = name_of(joint.kind),
                           .across_m = joint.across_m,
                           .left = hinge ? "rests" : whole,
                           .right = hinge ? "rests" : whole,
                           .rests = rests});
  }
}

void draw_stands(const deck::Deck& deck, report::DrawnDeck& plan) {
  for (int i = 0; i < deck.stand_count(); ++i) {
    const units::StandIndex stand{i};
    report::DrawnStand drawn;
    drawn.stand = units::print(stand);
    drawn.section = stand.section().value + 1;
    drawn.x_m = deck.sections[at(stand.section().value)].at_m;
    drawn.y_m = deck.stand_y_m(stand);
    drawn.tag = tag_of_cell(deck.stands[at(i)]);
    drawn.adjust = name_of(deck.stands[at(i)].adjust);
    plan.stands.push_back(std::move(drawn));
  }
}

}  // namespace

report::DrawnDeck drawn_deck(const deck::Deck& deck) {
  report::DrawnDeck plan;
  plan.gravity_m_per_s2 = deck.site.gravity_m_per_s2;
  plan.length_m = deck.length_m();
  draw_modules(deck, plan);
  draw_stands(deck, plan);
  return plan;
}

}  // namespace weighwright::job
