#include "job/clearance.h"

#include <fmt/format.h>

#include <cmath>
#include <variant>

#include "job/speak.h"

namespace weighwright::job {
namespace {

/// What stands against the balance itself.
void judge_balance(const SiteState& state, const SiteAdvice& advice, std::vector<Lack>& lacks) {
  if (!cells_read_here(state, advice)) {
    lacks.push_back({.what = advice.share_evidence.moved_last
                                 ? "the cells were not read since something was moved"
                                 : "the cells were not read at this visit",
                     .right = "cells.csv with every cell, read now"});
  }
  if (!advice.map.proven) {
    lacks.push_back({.what = "which reading belongs to which stand is not proven",
                     .right = "map.csv with every stand lifted or pressed in turn"});
  }
  if (!advice.share.view) {
    for (const units::Diagnostic& fault : advice.share.faults) {
      lacks.push_back({.what = "the readings can't be used: " + units::print(fault),
                       .right = "cells.csv that can be read"});
      break;
    }
    return;
  }
  const report::ShareView& view = *advice.share.view;
  if (view.done) return;
  const std::vector<std::string> apart = pairs_in_words(state, advice, true);
  for (const std::string& pair : apart) {
    lacks.push_back(
        {.what = pair, .right = "the moves of job next; or --tick balance_accepted --remark why"});
  }
  if (!apart.empty()) return;
  for (const report::CannotFixView& one : view.cannot_fix) {
    lacks.push_back(
        {.what = one.reason, .right = "the cause mended; or --tick balance_accepted --remark why"});
  }
  if (view.cannot_fix.empty()) {
    lacks.push_back(
        {.what = "the balance is not proven: " + view.headline, .right = "what job next asks for"});
  }
}

}  // namespace

bool cells_read_here(const SiteState& state, const SiteAdvice& advice) {
  if (!advice.share_evidence.anything || advice.share_evidence.moved_last) return false;
  int read = -1;
  for (const Event& event : state.events) {
    if (std::holds_alternative<record::ReadingSet>(event.what)) read = event.line;
  }
  return read > state.visit_line;
}

std::vector<std::string> pairs_in_words(const SiteState& state,
                                        const SiteAdvice& advice,
                                        bool only_beyond) {
  std::vector<std::string> list;
  if (!advice.share.view) return list;
  const deck::Deck& deck = *state.deck->deck;
  const Speaker say(deck);
  for (const report::PairView& pair : advice.share.view->pairs) {
    if (only_beyond && pair.within) continue;
    std::string text = fmt::format("section {0} ({0}L, {0}R): ", pair.section);
    if (deck.is_digital()) {
      text += say.mass(std::abs(pair.difference_N)) + " apart";
    } else {
      text += fmt::format("{:.2f} mV apart", std::abs(pair.difference_mV));
      if (std::isfinite(pair.tolerance_mV)) {
        text += fmt::format(", {:.2f} mV allowed", pair.tolerance_mV);
      }
    }
    list.push_back(std::move(text));
  }
  return list;
}

std::vector<Lack> clearance_lacks(const SiteState& state,
                                  const SiteAdvice& advice,
                                  const record::Fields& clearance) {
  using record::field;
  std::vector<Lack> lacks;
  if (field(clearance, "by").empty()) {
    lacks.push_back({.what = "nobody is named", .right = "by=... who clears it"});
  }
  if (field(clearance, "plates_level") != "yes") {
    lacks.push_back({.what = "the plates are not said to be level both ways",
                     .right = "plates_level=yes once a level lies on them both ways"});
  }
  if (state.grouted_line >= 0 && !state.may_load()) {
    lacks.push_back(
        {.what = fmt::format("entry {} says that the plates are grouted already",
                             state.grouted_line + 1),
         .right = "no clearance after the grout: the balance is owed, by shims after the release"});
  }
  if (!state.deck) {
    lacks.push_back(
        {.what = "no deck that can be read is described", .right = "a deck file first"});
    return lacks;
  }
  if (state.balance_accepted()) return lacks;
  judge_balance(state, advice, lacks);
  if (advice.holds(diagnose::Adjustment::screws) && !state.passed_over()) {
    lacks.push_back({.what = "a fault is open that no adjustment mends",
                     .right = "the cause first, as job next says"});
  }
  return lacks;
}

}  // namespace weighwright::job
