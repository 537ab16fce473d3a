#include "job/page_view_of.h"

#include <algorithm>
#include <set>

#include "job/ask_forms.h"
#include "job/drawn_deck.h"
#include "job/page_test_view.h"
#include "job/plan_of_deck.h"
#include "job/site_evidence.h"
#include "job/ticks.h"

namespace weighwright::job {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

bool hangs(const report::ShareView& share, int joint, char side) {
  const std::string place = "bearing" + std::to_string(joint + 1) + side;
  return std::any_of(
      share.open_bearings.begin(), share.open_bearings.end(),
      [&](const report::OpenView& open) { return open.place == place && open.chance > 0.5; });
}

void draw_hanging(const report::ShareView& share, report::DrawnDeck& plan) {
  for (int i = 0; i < static_cast<int>(plan.joints.size()); ++i) {
    report::DrawnJoint& joint = plan.joints[at(i)];
    if (joint.kind != "hinge") continue;
    if (hangs(share, i, 'L')) joint.left = "hangs";
    if (hangs(share, i, 'R')) joint.right = "hangs";
  }
}

/// What is believed of each stand, and what it will be after the moves.
void draw_belief(const report::ShareView& share, report::DrawnDeck& plan) {
  for (std::size_t i = 0; i < plan.stands.size(); ++i) {
    report::DrawnStand& drawn = plan.stands[i];
    if (i < share.stands.size()) {
      const report::StandView& now = share.stands[i];
      drawn.load_N = now.load_N;
      drawn.u_load_N = now.u_load_N;
      drawn.expected_N = now.expected_N;
      drawn.shown = now.shown;
      drawn.chance_free = now.chance_free;
    }
    if (i < share.then.size()) {
      drawn.then_shown = share.then[i].shown;
      drawn.then_load_N = share.then[i].load_N;
    }
  }
}

report::DrawnDeck draw(const SiteState& state, const report::ShareView* share) {
  const deck::Deck& deck = *state.deck->deck;
  report::DrawnDeck plan = drawn_deck(deck);
  const std::set<int> no_load = read_with_no_load(state);
  for (int i = 0; i < deck.stand_count(); ++i) {
    report::DrawnStand& drawn = plan.stands[at(i)];
    drawn.no_load = no_load.contains(i);
    if (state.grouted() && drawn.adjust == "screws") drawn.adjust = "none";
  }
  if (share == nullptr) return plan;
  draw_hanging(*share, plan);
  draw_belief(*share, plan);
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
    page.test = page_test_view(looked.advice.proof);
    page.papers = papers_of(state, looked.advice.proof);
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
