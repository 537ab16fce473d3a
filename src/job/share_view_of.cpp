#include "job/share_view_of.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "job/fault_words.h"
#include "job/judgement_words.h"
#include "job/move_words.h"
#include "job/plan_of_deck.h"
#include "job/reading_words.h"
#include "job/speak.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

std::size_t at(units::StandIndex stand) {
  return static_cast<std::size_t>(stand.value);
}

const char* name_of(share::Outcome outcome) {
  switch (outcome) {
    case share::Outcome::in_tolerance:
      return "in_tolerance";
    case share::Outcome::turn:
      return "turn";
    case share::Outcome::measure_first:
      return "measure_first";
    case share::Outcome::cannot_fix:
      break;
  }
  return "cannot_fix";
}

int pairs_out(const share::Advice& advice) {
  const auto out = [](const share::Pair& pair) { return !pair.within; };
  return static_cast<int>(std::count_if(advice.pairs.begin(), advice.pairs.end(), out));
}

std::string pairs_sentence(const share::Advice& advice) {
  const int pairs = static_cast<int>(advice.pairs.size());
  const int out = pairs_out(advice);
  if (out == 0) return fmt::format("All {} agree.", count_of(pairs, "pair"));
  return fmt::format("{} of {} (marked *) {} too far apart.", out, count_of(pairs, "pair"),
                     out == 1 ? "is" : "are");
}

void set_verdict(const share::Advice& advice, report::ShareView& view) {
  switch (advice.outcome) {
    case share::Outcome::in_tolerance:
      view.headline = "IN TOLERANCE.";
      view.verdict = pairs_sentence(advice) + " Leave the screws alone.";
      break;
    case share::Outcome::turn:
      view.headline = "NOT YET.";
      view.verdict =
          fmt::format("{} Adjust {}, then lower and read again{}.", pairs_sentence(advice),
                      count_of(static_cast<int>(advice.moves.size()), "stand"),
                      advice.probability_done
                          ? "; chance that this does it: " + chance(*advice.probability_done)
                          : "");
      break;
    case share::Outcome::measure_first:
      view.headline = "MEASURE FIRST.";
      view.verdict = "These readings don't tell which screw to turn.";
      break;
    case share::Outcome::cannot_fix:
      view.headline = "NO SCREW MENDS THIS.";
      view.verdict = pairs_sentence(advice) + " Find the cause first.";
      break;
  }
  if (view.in_tolerance && !advice.cannot_fix.empty()) {
    view.headline = "PAIRS AGREE, BUT SOMETHING ELSE IS WRONG.";
    view.verdict = "Find the cause first; turn nothing.";
  }
  if (advice.remapped) view.verdict += " Readings were put right by the map file.";
}

/// Twists that the readings show beyond doubt. Pads or module: the readings can't tell which, so
/// the words must not.
std::string twist_sentence(const deck::Deck& deck, const share::Advice& advice) {
  const Speaker say(deck);
  std::vector<std::string> twists;
  for (const share::BodyBelief& body : advice.bodies) {
    if (!(std::abs(body.twist_mismatch_m) > 2.0 * body.u_twist_mismatch_m)) continue;
    const std::string first = deck.modules[static_cast<std::size_t>(body.first_module)].mark;
    const std::string last = deck.modules[static_cast<std::size_t>(body.last_module)].mark;
    twists.push_back(fmt::format("{} by {} ±{}",
                                 body.first_module == body.last_module ? first : first + "-" + last,
                                 say.length_figure(std::abs(body.twist_mismatch_m)),
                                 say.length_figure(body.u_twist_mismatch_m)));
  }
  if (twists.empty()) return "";
  return fmt::format("Pads or modules are twisted out of plane ({}): {}.", say.length_unit(),
                     all_of(twists));
}

/// What is believed to hang; drawn as x on the plan.
std::string hanging_sentence(const deck::Deck& deck, const share::Advice& advice) {
  std::string text;
  for (const share::OpenBelief& open : advice.open_bearings) {
    if (open.chance <= 0.5) continue;
    text += fmt::format("{}x: the bearing {} hangs (chance {}).", text.empty() ? "" : " ",
                        bearing_name(deck, open.joint, open.side), chance(open.chance));
  }
  return text;
}

void show_belief(const deck::Deck& deck, const share::Advice& advice, report::ShareView& view) {
  constexpr double k95 = 1.6449;  // quantile of 95 % of the standard normal
  for (const share::BodyBelief& body : advice.bodies) {
    if (!(body.twist_spread_before > 1.0)) continue;
    const deck::Module& first = deck.modules[static_cast<std::size_t>(body.first_module)];
    const deck::Module& last = deck.modules[static_cast<std::size_t>(body.last_module)];
    const double given = first.twisting_Nm2;
    const double now = given * body.twist_factor;
    const double spread = std::pow(body.twist_spread, k95);
    const double before = std::pow(body.twist_spread_before, k95);
    view.bodies.push_back(
        {.name = body.first_module == body.last_module ? first.mark : first.mark + "-" + last.mark,
         .low_Nm2 = now / spread,
         .middle_Nm2 = now,
         .high_Nm2 = now * spread,
         .before_low_Nm2 = given / before,
         .before_high_Nm2 = given * before});
  }
  for (const share::OpenBelief& open : advice.open_bearings) {
    view.open_bearings.push_back({.place = fmt::format("bearing{}{}", open.joint + 1,
                                                       open.side == units::Side::left ? "L" : "R"),
                                  .chance = open.chance,
                                  .air_mm = open.gap_m * 1e3});
  }
}

std::string because(const deck::Deck& deck, const share::Advice& advice) {
  const std::string hanging = hanging_sentence(deck, advice);
  const std::string twist = advice.moves.empty() ? "" : twist_sentence(deck, advice);
  return hanging + (hanging.empty() || twist.empty() ? "" : " ") + twist;
}

void show_stands(const deck::Deck& deck,
                 const share::Advice& advice,
                 const ReadingWords& reading,
                 report::ShareView& view) {
  for (const share::StandNow& now : advice.now) {
    report::StandView stand;
    stand.stand = units::print(now.stand);
    stand.tag = tag_of(deck.stands[at(now.stand)]);
    stand.signal_mV = now.signal_V * 1e3;
    if (now.net_V) stand.net_mV = *now.net_V * 1e3;
    stand.load_N = now.force_N;
    stand.u_load_N = now.u_force_N;
    stand.expected_mV = now.expected_V * 1e3;
    stand.expected_N = now.expected_N;
    stand.chance_free = now.chance_free;
    stand.shown = reading.with_unit(now.stand, now.signal_V, now.excitation_V);
    view.stands.push_back(std::move(stand));
  }
}

void show_pairs(const share::Advice& advice, report::ShareView& view) {
  for (const share::Pair& pair : advice.pairs) {
    view.pairs.push_back({.section = pair.section.value + 1,
                          .difference_mV = pair.difference_V * 1e3,
                          .tolerance_mV = pair.tolerance_V * 1e3,
                          .difference_N = pair.difference_N,
                          .share_of_mean = pair.share_of_mean,
                          .within = pair.within});
  }
}

void show_then(const share::Advice& advice, const ReadingWords& reading, report::ShareView& view) {
  for (const share::Then& then : advice.then) {
    const double excitation_V = advice.now[at(then.stand)].excitation_V;
    view.then.push_back(
        {.stand = units::print(then.stand),
         .signal_mV = then.signal_V * 1e3,
         .standard_uncertainty_mV = then.u_signal_V * 1e3,
         .load_N = then.force_N,
         .shown = reading.figure(then.stand, then.signal_V, excitation_V),
         .shown_uncertainty = "±" + reading.figure(then.stand, then.u_signal_V, excitation_V)});
  }
}

std::string move_at(const report::ShareView& view, const std::string& stand) {
  for (const report::MoveView& move : view.moves) {
    if (move.stand == stand) return move.short_form;
  }
  return "";
}

/// Left minus right of every section: in mV where cells were read so, as mass, in percent of the
/// pair's mean.
void add_pair_rows(const deck::Deck& deck,
                   const share::Advice& advice,
                   bool in_mV,
                   report::PlanView& plan) {
  const Speaker say(deck);
  report::PlanRow signal{.label = "L-R mV", .cells = {}};
  report::PlanRow mass{.label = std::string("L-R ") + say.mass_unit(), .cells = {}};
  report::PlanRow percent{.label = "of mean", .cells = {}};
  for (const share::Pair& pair : advice.pairs) {
    const std::string mark = pair.within ? "" : " *";
    signal.cells.push_back(signal_figure(pair.difference_V) + mark);
    mass.cells.push_back(say.mass_figure(pair.difference_N) + (in_mV ? "" : mark));
    percent.cells.push_back(std::isfinite(pair.share_of_mean)
                                ? units::print_fixed(pair.share_of_mean * 100.0, 0) + " %"
                                : "-");
  }
  if (in_mV) plan.pairs.push_back(signal);
  plan.pairs.push_back(mass);
  plan.pairs.push_back(percent);
}

/// One plan that says it all: what each stand reads, what to do there, what it will read then.
report::PlanView make_plan(const deck::Deck& deck,
                           const share::Advice& advice,
                           const ReadingWords& reading,
                           const report::ShareView& view) {
  report::PlanView plan = plan_of(deck);
  add_row(plan, reading.unit(), [&](units::StandIndex stand) {
    const share::StandNow& now = advice.now[at(stand)];
    return reading.figure(stand, now.signal_V, now.excitation_V);
  });
  if (!view.moves.empty()) {
    add_row(plan, "do",
            [&](units::StandIndex stand) { return move_at(view, units::print(stand)); });
  }
  if (!view.then.empty()) {
    add_row(plan, "then", [&](units::StandIndex stand) {
      const report::ThenView& then = view.then[at(stand)];
      return then.shown + " " + then.shown_uncertainty;
    });
  } else {
    add_row(plan, "even", [&](units::StandIndex stand) {
      const share::StandNow& now = advice.now[at(stand)];
      return reading.figure(stand, now.expected_V, now.excitation_V);
    });
  }
  add_pair_rows(deck, advice, reading.in_millivolts(), plan);
  for (const share::OpenBelief& open : advice.open_bearings) {
    if (open.chance > 0.5) mark_hanging(plan, open.joint, open.side);
  }
  return plan;
}

std::vector<std::string> cautions_of(const report::ShareView& view) {
  if (view.moves.empty()) return {};
  const auto jacked = [](const report::MoveView& move) { return move.jack_first; };
  std::vector<std::string> cautions = {
      "Traffic locked out, nobody beneath, no hand between plate and cell, rods slack, no truck on "
      "an "
      "ungrouted deck; local codes and licensed-practice rules hold."};
  if (std::any_of(view.moves.begin(), view.moves.end(), jacked)) {
    cautions.emplace_back(
        "Jack both sides of a section together, each jack good for 1.5 times the section's load; "
        "lock-nut down, follow with packing. Never trust a reading of zero as free.");
  }
  return cautions;
}

void show_gentler(const deck::Deck& deck, const share::Advice& advice, report::ShareView& view) {
  if (advice.gentler.empty()) return;
  for (const share::Move& move : advice.gentler)
    view.gentler.push_back(words_of(deck, advice, move));
  view.gentler_sentence =
      fmt::format("Or gentler, with smaller moves on {} instead of {}{}:",
                  count_of(static_cast<int>(advice.gentler.size()), "stand"), advice.moves.size(),
                  advice.probability_gentler
                      ? " (chance of being done: " + chance(*advice.probability_gentler) + ")"
                      : "");
}

}  // namespace

report::ShareView view_of(const deck::Deck& deck,
                          const share::Advice& advice,
                          record::ReadingUnit unit) {
  const ReadingWords reading(deck, unit);
  report::ShareView view;
  view.deck_name = deck.name;
  view.outcome = name_of(advice.outcome);
  view.in_tolerance = advice.in_tolerance;
  view.done = advice.in_tolerance && advice.cannot_fix.empty();
  view.unit = reading.unit();
  view.probability_done = advice.probability_done;
  view.probability_gentler = advice.probability_gentler;
  set_verdict(advice, view);

  // What is there and what was judged of it.
  show_stands(deck, advice, reading, view);
  show_pairs(advice, view);
  view.judgements = judgements_of(deck, advice);
  for (const share::CannotFix& item : advice.cannot_fix) {
    view.cannot_fix.push_back(words_of(deck, advice, item, reading));
  }

  // What to do, and what will be read then.
  for (const share::Move& move : advice.moves) view.moves.push_back(words_of(deck, advice, move));
  show_gentler(deck, advice, view);
  show_then(advice, reading, view);
  for (const share::Ask& ask : advice.asks) view.asks.push_back(words_of(deck, ask));
  view.cautions = cautions_of(view);
  if (!view.moves.empty()) {
    const bool screws = std::any_of(advice.moves.begin(), advice.moves.end(),
                                    [](const share::Move& move) { return !move.shim; });
    view.after = screws
                     ? "Then every screw hand-firm, none loose; lower, read every cell, run share "
                       "again with these turns and the new readings."
                     : "Then no shim loose; lower, read every cell, run share again with these "
                       "shims and the new readings.";
  }
  view.because = because(deck, advice);
  view.plan = make_plan(deck, advice, reading, view);
  view.walking_order = walking_order(deck);
  show_belief(deck, advice, view);
  return view;
}

}  // namespace weighwright::job
