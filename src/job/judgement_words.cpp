#include "job/judgement_words.h"

#include <fmt/format.h>

#include <cmath>

#include "job/speak.h"

namespace weighwright::job {
namespace {

const char* verdict_of(share::Judgement judgement) {
  switch (judgement) {
    case share::Judgement::holds:
      return "holds";
    case share::Judgement::fails:
      return "fails";
    case share::Judgement::cannot_judge:
      break;
  }
  return "cannot_judge";
}

/// The two sums that no screw changes.
struct InvariantWords {
  const char* code;
  const char* holds;
  const char* fails;
  const char* cannot;
};

constexpr InvariantWords kParity = {"parity", "Section sums fit one another",
                                    "Section sums do not fit one another",
                                    "Section sums can't be judged"};
constexpr InvariantWords kRoll = {"roll", "Left and right as a whole fit",
                                  "Left and right as a whole do not fit",
                                  "Left against right as a whole can't be judged"};

report::JudgementView judged(const deck::Deck& deck,
                             const share::Advice& advice,
                             const share::Invariant& invariant,
                             const InvariantWords& words) {
  const Speaker say(deck);
  report::JudgementView view{.code = words.code,
                             .verdict = verdict_of(invariant.verdict),
                             .sentence = {},
                             .residual_N = invariant.residual_N,
                             .u_residual_N = invariant.u_residual_N,
                             .hidden_N = invariant.hidden_N};
  const std::string off = say.mass(std::abs(invariant.residual_N));
  const std::string usual = say.mass(invariant.u_residual_N);
  switch (invariant.verdict) {
    case share::Judgement::holds:
      view.sentence = fmt::format("{} (off by {}, {} is usual).", words.holds, off, usual);
      break;
    case share::Judgement::fails:
      view.sentence = fmt::format("{}: off by {} where {} is usual. No screw changes that.",
                                  words.fails, off, usual);
      break;
    case share::Judgement::cannot_judge:
      view.sentence = fmt::format("{}{}: up to {} at one stand could stay unseen.", words.cannot,
                                  advice.no_load_known ? "" : " without no-load readings",
                                  say.mass(invariant.hidden_N));
      break;
  }
  return view;
}

report::JudgementView map_judgement(const share::Advice& advice) {
  if (advice.map_proven) {
    return {.code = "map",
            .verdict = "holds",
            .sentence = "Stand-to-cell map proven.",
            .residual_N = {},
            .u_residual_N = {},
            .hidden_N = {}};
  }
  return {.code = "map",
          .verdict = "cannot_judge",
          .sentence =
              std::string("Which reading belongs to which stand is not proven: load each stand in "
                          "turn, see which reading moves (then --map-proven).") +
              (advice.moves.empty() ? "" : " Until then one stand at a time."),
          .residual_N = {},
          .u_residual_N = {},
          .hidden_N = {}};
}

report::JudgementView excitation_judgement(const deck::Deck& deck, const share::Advice& advice) {
  if (!advice.excitation_assumed) {
    return {.code = "excitation",
            .verdict = "holds",
            .sentence = "",
            .residual_N = {},
            .u_residual_N = {},
            .hidden_N = {}};
  }
  return {
      .code = "excitation",
      .verdict = "cannot_judge",
      .sentence = fmt::format("Supply taken as {:.4g} V steady DC: nobody said. Measure it at a "
                              "cell (excitation_V).",
                              deck.excitation_V),
      .residual_N = {},
      .u_residual_N = {},
      .hidden_N = {}};
}

/// "20 mm to 50 mm", "20 mm or more".
std::string grout_window(const deck::Deck& deck, const deck::Stand& stand) {
  const Speaker say(deck);
  if (stand.grout_min_m && stand.grout_max_m) {
    return say.length(*stand.grout_min_m) + " to " + say.length(*stand.grout_max_m);
  }
  if (stand.grout_min_m) return say.length(*stand.grout_min_m) + " or more";
  return say.length(stand.grout_max_m.value_or(0.0)) + " or less";
}

/// Empty where every stand is in its window, or has none.
std::optional<report::JudgementView> grout_judgement(const deck::Deck& deck,
                                                     const share::Advice& advice) {
  if (advice.grout_out.empty()) return {};
  const Speaker say(deck);
  std::string stands;
  for (const share::GroutOut& one : advice.grout_out) {
    const deck::Stand& stand = deck.stands[static_cast<std::size_t>(one.stand.value)];
    stands +=
        fmt::format("{}{} has {} ({} for grout)", stands.empty() ? "" : ", ",
                    units::print(one.stand), say.length(one.gap_m), grout_window(deck, stand));
  }
  return report::JudgementView{
      .code = "grout",
      .verdict = "fails",
      .sentence = "The gap under the plate is outside its window: " + stands + ".",
      .residual_N = {},
      .u_residual_N = {},
      .hidden_N = {}};
}

std::string support_of(const record::GapPlace& place) {
  if (!place.is_bearing) return units::print(place.stand);
  return fmt::format("bearing{}{}", place.joint + 1, place.side == units::Side::left ? "L" : "R");
}

std::string spoken_support(const deck::Deck& deck, const record::GapPlace& place) {
  if (!place.is_bearing) return "stand " + units::print(place.stand);
  return "the bearing " + bearing_name(deck, place.joint, place.side);
}

std::string why_gap(const deck::Deck& deck, const share::Ask& ask) {
  const Speaker say(deck);
  std::string text = fmt::format("It hangs with a chance of {}", chance(ask.chance));
  if (ask.gap_high_m > 0.0) {
    text += fmt::format(", {} to {} of air", say.length_figure(ask.gap_low_m),
                        say.length(ask.gap_high_m));
  }
  return text + "; knowing it is worth a lowering.";
}

}  // namespace

std::vector<report::JudgementView> judgements_of(const deck::Deck& deck,
                                                 const share::Advice& advice) {
  std::vector<report::JudgementView> views;
  views.push_back(judged(deck, advice, advice.parity, kParity));
  report::JudgementView roll = judged(deck, advice, advice.roll, kRoll);
  const bool both = !advice.no_load_known &&
                    advice.parity.verdict == share::Judgement::cannot_judge &&
                    advice.roll.verdict == share::Judgement::cannot_judge;
  if (both) {
    const double hidden_N = std::max(advice.parity.hidden_N, advice.roll.hidden_N);
    views.front().sentence = fmt::format(
        "Section sums, and left against right as a whole, can't be judged without no-load "
        "readings: up to {} at one stand could stay unseen.",
        Speaker(deck).mass(hidden_N));
    roll.sentence.clear();
  }
  views.push_back(std::move(roll));
  views.push_back(map_judgement(advice));
  views.push_back(excitation_judgement(deck, advice));
  if (auto grout = grout_judgement(deck, advice)) views.push_back(std::move(*grout));
  return views;
}

report::AskView words_of(const deck::Deck& deck, const share::Ask& ask) {
  const std::string place = spoken_support(deck, ask.place);
  const std::string support = support_of(ask.place);
  switch (ask.what) {
    case share::Ask::What::gap:
      return {.support = support,
              .what = "gap",
              .sentence = fmt::format(
                  "Feel for air {} {} with a feeler gauge, never a finger (gaps file: {},MM; 0 "
                  "where none goes in).",
                  ask.place.is_bearing ? "under" : "at", place, support),
              .why = why_gap(deck, ask)};
    case share::Ask::What::touch:
      return {
          .support = support,
          .what = "touch",
          .sentence = fmt::format("Without a jack turn {} up by hand until its reading begins to "
                                  "change (turns file, until = touch).",
                                  place),
          .why = why_gap(deck, ask)};
    case share::Ask::What::no_load:
      return {.support = {},
              .what = "no_load",
              .sentence = "Read every cell once with nothing on it (column no_load).",
              .why = "Without it a wrong cell or a deck that touches can stay unseen."};
    case share::Ask::What::map:
      return {.support = {},
              .what = "map",
              .sentence =
                  "Load each stand in turn, 1 t or more, and note which reading moves (map "
                  "file: loaded,moved).",
              .why = "Two cells exchanged send every turn to the wrong stand."};
    case share::Ask::What::repeat:
      break;
  }
  return {.support = {},
          .what = "repeat",
          .sentence = "Read every cell once more before turning anything.",
          .why = "One reading alone can't show what is noise."};
}

}  // namespace weighwright::job
