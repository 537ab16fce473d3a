#include "job/trim_view_of.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "job/indication_words.h"
#include "job/plan_of_deck.h"
#include "job/speak.h"
#include "job/trim_finding_words.h"
#include "job/trim_setting_words.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using trim::TrimAdvice;
using trim::Verdict;

const char* code_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::within:
      return "within";
    case Verdict::adjust:
      return "adjust";
    case Verdict::learn:
      return "learn";
    case Verdict::more_places:
      return "more_places";
    case Verdict::too_coarse:
      return "too_coarse";
    case Verdict::cause_first:
      return "cause_first";
    case Verdict::no_trims:
      return "no_trims";
    case Verdict::at_limit:
      break;
  }
  return "at_limit";
}

constexpr double kLikely = 0.7;
constexpr double kHelps = 0.9;

std::string spread_sentence(const IndicationWords& say, const TrimAdvice& advice) {
  return fmt::format("Places differ by {} ({}) with {}; wanted {}.", say.mass(advice.before.kg),
                     say.in_e(advice.before.kg), say.load(advice.reference_kg),
                     say.mass(advice.wanted_kg));
}

/// What stays, and why: trims of a section can't tell its cells apart, and every trim has its ends.
std::string beyond_trims(const deck::Deck& deck, const TrimAdvice& advice) {
  const IndicationWords say(deck);
  double widest = 0.0;
  int section = -1;
  for (const trim::Element& element : advice.elements) {
    if (element.stands.size() != 2) continue;
    const double apart =
        advice.fit.log_gain(element.stands[0]) - advice.fit.log_gain(element.stands[1]);
    if (std::abs(apart) <= std::abs(widest)) continue;
    widest = apart;
    section = element.stands[0] / 2;
  }
  std::string text;
  if (std::abs(widest) * advice.reference_kg > advice.wanted_kg) {
    text += fmt::format(
        " In section {} left reads {} {} than right, which one trim for both can not mend: cells "
        "alike in pairs, or a box with a trim for each cell.",
        section + 1, say.mass(std::abs(widest) * advice.reference_kg),
        widest > 0.0 ? "more" : "less");
  }
  for (const trim::TrimSetting& setting : advice.settings) {
    if (!setting.at_end) continue;
    text +=
        " A trim is at its end: bring the others down to it, or find why that cell reads so low.";
    break;
  }
  return text;
}

void set_verdict(const deck::Deck& deck, const TrimAdvice& advice, report::TrimView& view) {
  const IndicationWords say(deck);
  const std::string spread = spread_sentence(say, advice);
  const int trims = static_cast<int>(advice.settings.size());
  switch (advice.verdict) {
    case Verdict::within:
      view.headline = "CORNERS AGREE.";
      view.verdict = fmt::format(
          "{} Leave the trims alone; next comes the span. Chance that they agree as well without "
          "rounding and scatter: {}{}.",
          spread, chance(advice.before.chance_within),
          advice.before.chance_within < kLikely ? " (a finer reading would tell)" : "");
      return;
    case Verdict::adjust:
      view.headline = "NOT YET.";
      view.verdict = fmt::format(
          "{} Set {} and read every place again; expected then {}, chance to be within: {}.",
          spread, count_of(trims, "trim"), say.mass(advice.then.expected_kg),
          chance(advice.then.chance_within));
      return;
    case Verdict::learn:
      view.headline = advice.fit.turn ? "A TURN MORE." : "ONE TURN FIRST.";
      view.verdict =
          spread + (advice.fit.turn
                        ? " What a turn does is not known well enough yet; while the load "
                          "stands there, turning on costs no weight move and sets all trims "
                          "better."
                        : " Nobody has said what a turn of these trims does.");
      return;
    case Verdict::more_places:
      view.headline = "MORE PLACES FIRST.";
      view.verdict = "These readings do not determine every trim.";
      return;
    case Verdict::too_coarse:
      view.headline = "TOO COARSE.";
      view.verdict = "These readings are too coarse to set a trim by.";
      return;
    case Verdict::cause_first:
      view.headline = "FIND THE CAUSE FIRST.";
      view.verdict = "Set no trim: it would hide what is named below.";
      return;
    case Verdict::no_trims:
      view.headline = "NO TRIM MENDS THIS.";
      view.verdict = spread + " The deck file says that the box has no trims.";
      return;
    case Verdict::at_limit:
      view.headline = "NOT ENOUGH.";
      view.verdict =
          fmt::format("{} The trims bring it to {} at best{}.", spread, say.mass(advice.then.kg),
                      trims > 0 ? "; their settings follow" : "", beyond_trims(deck, advice));
      return;
  }
}

void show_plan(const deck::Deck& deck,
               const TrimAdvice& advice,
               const TrimSettingWords& words,
               report::TrimView& view) {
  const IndicationWords say(deck);
  view.plan = plan_of(deck);
  // What each stand's own path does to the reference load, as the trims stand now.
  if (advice.verdict != Verdict::more_places) {
    add_row(view.plan, std::string(say.unit()) + " off", [&](units::StandIndex stand) {
      return say.error(advice.fit.log_gain(stand.value) * advice.reference_kg);
    });
  }
  if (advice.settings.empty()) return;
  add_row(view.plan, "set", [&](units::StandIndex stand) {
    for (std::size_t k = 0; k < advice.elements.size(); ++k) {
      const trim::Element& element = advice.elements[k];
      if (std::find(element.stands.begin(), element.stands.end(), stand.value) ==
          element.stands.end()) {
        continue;
      }
      const std::string brief = words.brief(static_cast<int>(k));
      return brief.empty() ? std::string("stays") : brief;
    }
    return std::string("-");
  });
}

/// "+0.8", in e.
std::string in_e(const deck::Deck& deck, double kg) {
  const std::string text = units::print_fixed(kg / deck.interval_kg, 1);
  return text.front() == '-' || text == "0.0" ? text : "+" + text;
}

void show_points(const deck::Deck& deck, const TrimAdvice& advice, report::TrimView& view) {
  const IndicationWords say(deck);
  const bool then = !advice.settings.empty();
  view.point_table.heading = {"place", "load", "off", "±", "e"};
  if (then) {
    for (const char* const head : {"then", "±", "e", "will show"})
      view.point_table.heading.emplace_back(head);
  }
  for (const trim::PointThen& point : advice.points) {
    view.points.push_back({.at = point.name,
                           .load_kg = point.load_kg,
                           .load_known = point.load_known,
                           .read_now = point.read_now,
                           .error_kg = point.error_kg,
                           .u_error_kg = point.u_error_kg,
                           .then_error_kg = point.then_error_kg,
                           .u_then_error_kg = point.u_then_error_kg,
                           .then_indication_kg = point.then_indication_kg});
    std::vector<std::string> row = {
        point.name + (point.read_now ? "" : " *"),
        point.load_known ? say.load(point.load_kg) : "about " + say.load(std::round(point.load_kg)),
        say.error(point.error_kg), say.figure(point.u_error_kg), in_e(deck, point.error_kg)};
    if (then) {
      row.push_back(say.error(point.then_error_kg));
      row.push_back(say.figure(point.u_then_error_kg));
      row.push_back(in_e(deck, point.then_error_kg));
      row.push_back(say.figure(point.then_indication_kg));
    }
    view.point_table.rows.push_back(std::move(row));
  }
  const bool starred = std::any_of(advice.points.begin(), advice.points.end(),
                                   [](const trim::PointThen& point) { return !point.read_now; });
  view.point_note = fmt::format(
      "{} against the mean of all places with that load; ± one standard uncertainty{}{}.",
      say.unit(), starred ? "; * worked out, not read since the last trim was moved" : "",
      then ? "; the span is set afterwards, so all figures may lie off the load alike" : "");
  if (then) {
    view.point_note += fmt::format(
        " The trims alone would bring the spread to {}; {} is expected, for what rounding and "
        "scatter of "
        "these readings hide.",
        say.mass(advice.attainable_kg), say.mass(advice.then.expected_kg));
  }
}

report::SpreadView spread_view(const trim::Spread& spread) {
  return {.kg = spread.kg,
          .expected_kg = spread.expected_kg,
          .upper_kg = spread.upper_kg,
          .chance_within = spread.chance_within};
}

void show_undetermined(const deck::Deck& deck, const TrimAdvice& advice, report::TrimView& view) {
  if (!advice.undetermined) return;
  static_cast<void>(deck);
  view.undetermined = advice.undetermined->trims;
  view.settle_by = advice.undetermined->settle_by;
  view.undetermined_sentence = fmt::format(
      "Open: {}.{} Next, load {}.", all_of(advice.undetermined->trims),
      advice.undetermined->left_right_only
          ? " Loads on the centre line can never tell left from right: stand it over one side."
          : "",
      advice.undetermined->settle_by.empty() ? "another place" : advice.undetermined->settle_by);
}

/// Worst trim now, as the readings made so far tell it, kg.
double doubt_kg(const TrimAdvice& advice) {
  return std::sqrt(advice.fit.covariance.diagonal().maxCoeff()) * advice.reference_kg;
}

void show_more(const deck::Deck& deck, const TrimAdvice& advice, report::TrimView& view) {
  if (advice.verdict == Verdict::within || advice.verdict == Verdict::cause_first) return;
  const IndicationWords say(deck);
  const bool helps = advice.undetermined || (!advice.more.empty() && advice.more.back().u_trim_kg <
                                                                         kHelps * doubt_kg(advice));
  if (helps) {
    view.more_table.heading = {"more", "worst trim ±", "places"};
  } else if (!advice.settings.empty()) {
    view.point_note +=
        " A few more placements would hardly help; a finer reading (tenths of d, small weights "
        "until "
        "the display changes over) or a heavier load would.";
  }
  for (const trim::MorePlacements& more : advice.more) {
    std::string places;
    for (const std::string& place : more.places) places += (places.empty() ? "" : "; ") + place;
    const bool open = !std::isfinite(more.u_trim_kg);
    view.more.push_back({.count = more.count,
                         .u_trim_kg = open ? std::nullopt : std::optional(more.u_trim_kg),
                         .places = more.places});
    if (!helps) continue;
    view.more_table.rows.push_back(
        {std::to_string(more.count), open ? "open" : say.mass(more.u_trim_kg), places});
  }
}

void show_learned(const deck::Deck& deck, const TrimAdvice& advice, report::TrimView& view) {
  if (!advice.fit.turn || std::abs(advice.fit.turn->effect) < 2.0 * advice.fit.turn->u) return;
  const IndicationWords say(deck);
  view.per_turn = advice.fit.turn->effect;
  const double kg = advice.fit.turn->effect * advice.reference_kg;
  view.learned = fmt::format(
      "Learned from the trims that were turned: one turn clockwise {} the reading over it by {} ± "
      "{} "
      "with {}.",
      kg < 0.0 ? "lowers" : "raises", say.mass(std::abs(kg)),
      say.figure(advice.fit.turn->u * advice.reference_kg), say.load(advice.reference_kg));
}

/// What the settings do to the deck as a whole.
std::string level_sentence(const TrimAdvice& advice) {
  if (std::abs(advice.whole_deck) < 5e-5) return "The span comes after the corners.";
  return fmt::format("All readings move by {:+.2f} % with it: the span comes after the corners.",
                     advice.whole_deck * 100.0);
}

void show_work(const deck::Deck& deck,
               const TrimAdvice& advice,
               const TrimSettingWords& words,
               report::TrimView& view) {
  for (const trim::TrimSetting& setting : advice.settings) {
    view.trims.push_back(words.setting(setting));
  }
  if (advice.learning) {
    view.learn = words.learning(*advice.learning);
    view.learn_trim =
        trim::print(advice.elements[static_cast<std::size_t>(advice.learning->element)].place);
    view.learn_turns = advice.learning->turns;
  }
  for (const trim::OrderStep& step : advice.order) view.order.push_back(words.step(step));
  view.moves_at_once = advice.costs.at_once;
  view.moves_guided = advice.costs.guided;
  if (!view.order.empty()) {
    view.order_note = fmt::format(
        "Weight moves: all at once {} (every place read twice), pairs first about {} (common "
        "practice, "
        "no source).",
        advice.costs.at_once, advice.costs.guided);
  }
  if (view.trims.empty() && !view.learn) return;
  const IndicationWords say(deck);
  view.after = view.learn ? "" : "Then read zero and every place again. " + level_sentence(advice);
  view.cautions = {
      "Loads on the deck only where it is grouted, cured and restrained; weights and trucks moved "
      "by "
      "licensed people; nobody below or beside the deck while a load moves.",
      "Box open: dry, no mains work, seals noted first (number, by whose authority broken). Local "
      "codes go before this page."};
}

}  // namespace

report::TrimView view_of(const deck::Deck& deck, const TrimAdvice& advice) {
  const TrimSettingWords words(deck, advice);
  report::TrimView view;
  view.deck_name = deck.name;
  view.code = code_of(advice.verdict);
  view.done = advice.verdict == Verdict::within;
  set_verdict(deck, advice, view);
  show_plan(deck, advice, words, view);
  show_points(deck, advice, view);
  view.wanted_kg = advice.wanted_kg;
  view.reference_load_kg = advice.reference_kg;
  view.before = spread_view(advice.before);
  if (!advice.settings.empty()) view.then = spread_view(advice.then);
  view.attainable_kg = advice.attainable_kg;
  view.whole_deck = advice.whole_deck;
  for (const trim::Finding& finding : advice.findings) {
    view.findings.push_back(finding_words(deck, finding));
  }
  show_undetermined(deck, advice, view);
  show_more(deck, advice, view);
  show_learned(deck, advice, view);
  show_work(deck, advice, words, view);
  return view;
}

}  // namespace weighwright::job
