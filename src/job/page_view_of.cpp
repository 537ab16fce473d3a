#include "job/page_view_of.h"

#include <algorithm>
#include <set>
#include <variant>

#include "job/ask_forms.h"
#include "job/plan_of_deck.h"
#include "job/ticks.h"

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

/// Stands whose cell was read with nothing on it.
std::set<int> read_with_no_load(const SiteState& state) {
  std::set<int> stands;
  for (const Event& event : state.events) {
    if (const auto* set = std::get_if<record::ElectricSet>(&event.what)) {
      for (const auto& [stand, cell] : set->stands) {
        if (cell.zero_mV) stands.insert(stand.value);
      }
    }
    if (const auto* set = std::get_if<record::ReadingSet>(&event.what)) {
      for (const record::StandReading& reading : set->stands) {
        if (reading.no_load) stands.insert(reading.stand.value);
      }
    }
  }
  return stands;
}

std::string tag_of_cell(const deck::Stand& stand) {
  if (!stand.cell.terminal.empty()) return "terminal " + stand.cell.terminal;
  if (!stand.cell.address.empty()) return "address " + stand.cell.address;
  return "";
}

bool hangs(const report::ShareView* share, int joint, char side) {
  if (share == nullptr) return false;
  const std::string place = "bearing" + std::to_string(joint + 1) + side;
  return std::any_of(
      share->open_bearings.begin(), share->open_bearings.end(),
      [&](const report::OpenView& open) { return open.place == place && open.chance > 0.5; });
}

void draw_modules(const deck::Deck& deck, const report::ShareView* share, report::DrawnDeck& plan) {
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
                           .left = !hinge                 ? whole
                                   : hangs(share, i, 'L') ? "hangs"
                                                          : "rests",
                           .right = !hinge                 ? whole
                                    : hangs(share, i, 'R') ? "hangs"
                                                           : "rests",
                           .rests = rests});
  }
}

void draw_stands(const SiteState& state, const report::ShareView* share, report::DrawnDeck& plan) {
  const deck::Deck& deck = *state.deck->deck;
  const std::set<int> no_load = read_with_no_load(state);
  for (int i = 0; i < deck.stand_count(); ++i) {
    const units::StandIndex stand{i};
    const deck::Section& section = deck.sections[at(stand.section().value)];
    report::DrawnStand drawn{
        .stand = units::print(stand),
        .section = stand.section().value + 1,
        .x_m = section.at_m,
        .y_m = deck.stand_y_m(stand),
        .tag = tag_of_cell(deck.stands[at(i)]),
        .adjust = name_of(state.grouted() && deck.stands[at(i)].adjust == deck::Adjust::screws
                              ? deck::Adjust::none
                              : deck.stands[at(i)].adjust),
        .load_N = {},
        .u_load_N = {},
        .expected_N = {},
        .shown = {},
        .chance_free = 0.0,
        .no_load = no_load.contains(i),
        .then_shown = {},
        .then_load_N = {}};
    if (share != nullptr && at(i) < share->stands.size()) {
      const report::StandView& now = share->stands[at(i)];
      drawn.load_N = now.load_N;
      drawn.u_load_N = now.u_load_N;
      drawn.expected_N = now.expected_N;
      drawn.shown = now.shown;
      drawn.chance_free = now.chance_free;
    }
    if (share != nullptr && at(i) < share->then.size()) {
      drawn.then_shown = share->then[at(i)].shown;
      drawn.then_load_N = share->then[at(i)].load_N;
    }
    plan.stands.push_back(std::move(drawn));
  }
}

report::DrawnDeck draw(const SiteState& state, const report::ShareView* share) {
  const deck::Deck& deck = *state.deck->deck;
  report::DrawnDeck plan;
  plan.gravity_m_per_s2 = deck.site.gravity_m_per_s2;
  plan.length_m = deck.length_m();
  draw_modules(deck, share, plan);
  draw_stands(state, share, plan);
  if (share == nullptr) return plan;
  for (const report::PairView& pair : share->pairs) {
    plan.pairs.push_back({.section = pair.section,
                          .at_m = deck.sections[at(pair.section - 1)].at_m,
                          .difference_mV = pair.difference_mV,
                          .tolerance_mV = pair.tolerance_mV,
                          .difference_N = pair.difference_N,
                          .within = pair.within});
  }
  return plan;
}

std::vector<report::TickView> ticks_of(const SiteState& state) {
  std::vector<report::TickView> list;
  for (const TickRule& rule : ticks()) {
    list.push_back({.name = std::string(rule.name),
                    .says = std::string(rule.says),
                    .todo = std::string(rule.todo),
                    .condition = rule.condition,
                    .on = state.ticked(std::string(rule.name))});
  }
  return list;
}

/// Changes with every entry, on every chain.
std::string revision_of(const report::JobView& view) {
  constexpr std::size_t kDigits = 10;
  std::string text = std::to_string(view.entry_count);
  for (const report::HeadView& head : view.heads) text += "-" + head.hash.substr(0, kDigits);
  return text;
}

}  // namespace

report::PageView page_view_of(Looked looked) {
  const SiteState& state = looked.state;
  report::PageView page;
  page.revision = revision_of(looked.view);
  page.ticks = ticks_of(state);
  if (state.deck) {
    const deck::Deck& deck = *state.deck->deck;
    const report::ShareView* const share =
        looked.advice.share.view ? &*looked.advice.share.view : nullptr;
    page.us = in_pounds(deck);
    page.reading_unit = reading_unit(deck);
    page.step_kg = deck.display_kg();
    page.max_kg = deck.capacity_kg;
    page.plan = draw(state, share);
    page.order = walking_order(deck);
    page.belief.assumed = state.deck->assumed;
    if (share != nullptr) {
      page.belief.sentence = share->because;
      page.belief.bodies = share->bodies;
      page.belief.open = share->open_bearings;
      page.belief.judgements = share->judgements;
    }
  }
  page.job = std::move(looked.view);
  return page;
}

}  // namespace weighwright::job
