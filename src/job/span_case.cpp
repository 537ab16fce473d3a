#include "job/span_case.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>
#include <variant>

#include "job/assumed_of.h"
#include "job/elsewhere.h"
#include "job/indication_words.h"
#include "job/read_events.h"
#include "job/span_finding_words.h"
#include "job/span_open.h"
#include "job/speak.h"
#include "signal/budget.h"
#include "span/advise.h"
#include "span/results.h"
#include "span/theory.h"
#include "statics/contact.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

constexpr double kEnoughOfMax = 0.5;

std::string ratio(double V_per_V) {
  return units::print_fixed(V_per_V * 1e3, 5) + " mV/V";
}

std::vector<record::LoadSet> loads_of(const std::vector<record::Measurement>& events) {
  std::vector<record::LoadSet> sets;
  for (const record::Measurement& event : events) {
    if (const auto* set = std::get_if<record::LoadSet>(&event)) sets.push_back(*set);
  }
  return sets;
}

/// Kinds of files that say nothing here.
units::Diagnostics foreign(const std::vector<record::Measurement>& events) {
  units::Diagnostics faults;
  for (const record::Measurement& event : events) {
    if (!std::holds_alternative<record::ElectricSet>(event) &&
        !std::holds_alternative<record::ForceSet>(event) &&
        !std::holds_alternative<record::ZeroSet>(event) &&
        !std::holds_alternative<record::LookSet>(event) &&
        !std::holds_alternative<record::WeightSet>(event) &&
        !std::holds_alternative<record::ProofSet>(event)) {
      continue;
    }
    faults.push_back({.file = std::visit([](const auto& set) { return set.source; }, event),
                      .line = 1,
                      .column = 0,
                      .what = "this kind of file says nothing of the span",
                      .expected = "loads (load_kg,indication_kg); resistances and forces belong to "
                                  "signal"});
  }
  return faults;
}

std::vector<std::string> theory_sentences(const deck::Deck& deck,
                                          const span::Theory& theory,
                                          double test_load_kg) {
  const IndicationWords say(deck);
  const double U = theory.excitation_V;
  const auto both = [&](double V_per_V) {
    return fmt::format("{} ({} mV at {} V)", ratio(V_per_V),
                       units::print_fixed(V_per_V * U * 1e3, 4), units::print_exact(U));
  };
  std::vector<std::string> list;
  list.push_back("Empty deck: " + both(theory.dead_V_per_V) + ".");
  if (test_load_kg > 0.0) {
    list.push_back(fmt::format("With {}: {}.", say.load(test_load_kg),
                               both(theory.dead_V_per_V + test_load_kg * theory.per_kg_V_per_V)));
  }
  list.push_back(fmt::format("At Max, {}: {}; the span alone is {}.", say.load(deck.capacity_kg),
                             both(theory.dead_V_per_V + theory.span_V_per_V),
                             ratio(theory.span_V_per_V)));
  list.push_back(
      fmt::format("One e ({}): {} uV.", say.mass(deck.interval_kg),
                  units::print_fixed(deck.interval_kg * theory.per_kg_V_per_V * U * 1e6, 3)));
  list.push_back(
      fmt::format("Gravity here is {:+.3f} % against the 9.80665 m/s2 that cells are rated by; "
                  "that is counted. "
                  "An indicator set up elsewhere must be set again here.",
                  (theory.gravity_ratio - 1.0) * 100.0));
  list.emplace_back(
      "Papers are good to about 0.1 %; a span that is legal for trade comes from known loads.");
  return list;
}

void show_theory(const deck::Deck& deck,
                 const statics::Model& model,
                 double test_load_kg,
                 report::SpanView& view) {
  if (signal::is_digital(deck)) {
    view.no_theory =
        "Digital cells: they are set to kilograms by their makers, so there are no "
        "millivolts to set the indicator by.";
    return;
  }
  const statics::ContactState dead = statics::solve_contact(
      model, model.dead, Eigen::VectorXd::Zero(deck.stand_count()), statics::nominal(model));
  const span::Theory theory = span::theory_of(deck, dead.stand_N);
  report::SpanTheoryView shown;
  shown.dead_mV_per_V = theory.dead_V_per_V * 1e3;
  shown.span_mV_per_V = theory.span_V_per_V * 1e3;
  shown.full_mV_per_V = shown.dead_mV_per_V + shown.span_mV_per_V;
  shown.uV_per_V_per_kg = theory.per_kg_V_per_V * 1e6;
  shown.excitation_V = theory.excitation_V;
  shown.gravity_ratio = theory.gravity_ratio;
  shown.sentences = theory_sentences(deck, theory, test_load_kg);
  view.theory = std::move(shown);
  add_assumed(view.assumed, theory.assumed);
}

void show_points(const deck::Deck& deck,
                 const span::SpanAdvice& advice,
                 bool with_then,
                 report::SpanView& view) {
  const IndicationWords say(deck);
  view.point_table.heading = {"load", "shows", "error", "off line"};
  if (with_then) {
    for (const char* const head : {"then", "error", "±"})
      view.point_table.heading.emplace_back(head);
  }
  for (const span::PointThen& point : advice.points) {
    view.points.push_back({.load_kg = point.load_kg,
                           .u_load_kg = point.u_load_kg,
                           .indicated_kg = point.indicated_kg,
                           .error_kg = point.error_kg,
                           .deviation_kg = point.deviation_kg,
                           .then_kg = point.then_kg,
                           .then_error_kg = point.then_error_kg,
                           .u_then_error_kg = point.u_then_error_kg,
                           .material = point.material,
                           .fixes_material = point.fixes_material});
    std::string load = say.figure(point.load_kg);
    if (!point.material.empty()) load += " with " + point.material;
    std::vector<std::string> row = {
        load, say.figure(point.indicated_kg),
        point.fixes_material ? "sets " + point.material : say.error(point.error_kg),
        say.error(point.deviation_kg)};
    if (with_then) {
      row.push_back(say.figure(point.then_kg));
      row.push_back(say.error(point.then_error_kg));
      row.push_back(say.figure(point.u_then_error_kg));
    }
    view.point_table.rows.push_back(std::move(row));
  }
}

void show_later(const deck::Deck& deck, const span::SpanAdvice& advice, report::SpanView& view) {
  const IndicationWords say(deck);
  view.later_table.heading = {"load", "without", "after setting", "±"};
  for (const span::Later& later : advice.later) {
    view.later.push_back({.load_kg = later.load_kg,
                          .now_kg = later.now_kg,
                          .then_kg = later.load_kg,
                          .u_kg = later.u_kg});
    view.later_table.rows.push_back({say.load(later.load_kg), say.figure(later.now_kg),
                                     say.figure(later.load_kg), say.figure(later.u_kg)});
  }
}

void show_steps(const deck::Deck& deck, const span::SpanAdvice& advice, report::SpanView& view) {
  const IndicationWords say(deck);
  const std::string load = say.load(advice.set_at_kg);
  view.steps = {
      "Empty the deck, let it settle, set zero; zero tracking and filters as they are found, "
      "noted.",
      fmt::format(
          "With {} on the deck (it shows {} now) set the span so that it shows {}. Where the "
          "span is entered as a figure: multiply it by {:.6f}.",
          load, say.mass(advice.shows_now_kg), say.mass(advice.set_to_kg), advice.correction),
      "Take the load off: zero must come back within 0.5 e. Then read all loads again, up and "
      "down."};
  if (view.theory) {
    view.notes.push_back(
        fmt::format("If the indicator was set by the papers ({} for Max): {} instead.",
                    ratio(view.theory->span_mV_per_V * 1e-3),
                    ratio(view.theory->span_mV_per_V * 1e-3 * advice.slope)));
  }
  view.cautions = {
      "Test weights and trucks moved by licensed people; nobody below or beside the deck while a "
      "load "
      "moves. A seal is broken only by whom the local law allows, its number noted first."};
}

void show_linearity(const deck::Deck& deck,
                    const span::SpanAdvice& advice,
                    report::SpanView& view) {
  const IndicationWords say(deck);
  std::string points;
  for (const span::LinearityPoint& point : advice.linearity) {
    view.linearity_kg.emplace_back(point.load_kg, point.shows_kg);
    points += fmt::format("{}{} shows {}", points.empty() ? "" : ", ", say.load(point.load_kg),
                          say.figure(point.shows_kg));
  }
  if (points.empty()) return;
  view.notes.push_back(
      "Linearity points, where the indicator has them and the bend came back the same "
      "twice (after the span is set): " +
      points + ".");
}

void add_notes(const span::SpanAdvice& advice, report::SpanView& view) {
  if (advice.reach < kEnoughOfMax) {
    view.notes.push_back(
        fmt::format("The greatest known load is {:.0f} % of Max: what lies above is read off a "
                    "straight line. More "
                    "weights, or substitution (material = m1 in the file), would show it.",
                    advice.reach * 100.0));
  }
  if (advice.one_sided) {
    view.notes.emplace_back(
        "As found, all errors lean one way; an adjustment goes to zero, not just inside the "
        "limit.");
  }
}

void show_results(const deck::Deck& deck,
                  const span::Results& results,
                  const std::vector<std::string>& open,
                  report::SpanView& view) {
  const span::SpanAdvice advice = span::advise(deck, results);
  const IndicationWords say(deck);
  view.has_results = true;
  view.slope = advice.slope;
  view.u_slope = advice.u_slope;
  view.correction = advice.correction;
  view.set_at_kg = advice.set_at_kg;
  view.shows_now_kg = advice.shows_now_kg;
  view.set_to_kg = advice.set_to_kg;
  for (const span::Finding& finding : advice.findings) {
    view.findings.push_back(finding_words(deck, finding));
  }
  view.open = open;
  const bool set = open.empty() && advice.verdict == span::Verdict::set;
  show_points(deck, advice, set, view);
  const std::string reads = fmt::format("Everything reads {:+.3f} % ± {:.3f} %.",
                                        (advice.slope - 1.0) * 100.0, advice.u_slope * 100.0);
  if (advice.verdict == span::Verdict::cause_first) {
    view.code = "cause_first";
    view.headline = "FIND THE CAUSE FIRST.";
    view.verdict = "No span mends what is named below.";
    return;
  }
  if (!open.empty()) {
    view.code = "open";
    view.headline = "THE SPAN WAITS.";
    view.verdict = reads + " It is set when the following is done:";
    return;
  }
  show_later(deck, advice, view);
  show_linearity(deck, advice, view);
  add_notes(advice, view);
  view.code = set ? "set" : "leave";
  view.done = !set;
  view.headline = set ? "SET THE SPAN." : "LEAVE THE SPAN.";
  view.verdict = set ? fmt::format("{} With {} it shows {} and shall show {}.", reads,
                                   say.load(advice.set_at_kg), say.mass(advice.shows_now_kg),
                                   say.mass(advice.set_to_kg))
                     : reads + " Setting it would move no reading by a quarter of e.";
  if (set) show_steps(deck, advice, view);
}

}  // namespace

SpanAnswer span_case(const SpanRequest& request) {
  LoadedDeck loaded = load_deck(request.deck);
  if (!loaded.ok()) return {.view = {}, .faults = std::move(loaded.faults)};
  Events events = read_events(*loaded.deck, request.files);
  if (!events.faults.empty()) return {.view = {}, .faults = std::move(events.faults)};
  if (!request.files.empty() && loads_of(events.list).empty() && foreign(events.list).empty()) {
    return {.view = {},
            .faults = {{.file = request.files.back().name,
                        .line = 1,
                        .column = 0,
                        .what = "none of the files holds known loads",
                        .expected = "a file with load_kg,indication_kg (no place: on the deck as a "
                                    "whole)"}}};
  }
  SpanAnswer answer = span_events(loaded, events.list, request.shared, request.trimmed);
  if (!answer.view || !request.adjusted_at) return answer;
  Elsewhere elsewhere = adjusted_elsewhere(*loaded.deck, *request.adjusted_at);
  if (!elsewhere.faults.empty()) return {.view = {}, .faults = std::move(elsewhere.faults)};
  answer.view->notes.insert(answer.view->notes.begin(), elsewhere.sentences.begin(),
                            elsewhere.sentences.end());
  return answer;
}

SpanAnswer span_events(const LoadedDeck& loaded,
                       const std::vector<record::Measurement>& events,
                       bool shared,
                       bool trimmed) {
  const deck::Deck& deck = *loaded.deck;
  units::Diagnostics strange = foreign(events);
  if (!strange.empty()) return {.view = {}, .faults = std::move(strange)};
  const std::vector<record::LoadSet> sets = loads_of(events);
  report::SpanView view;
  view.deck_name = deck.name;
  view.assumed = loaded.assumed;
  drop_sharing(view.assumed);
  if (sets.empty()) {
    show_theory(deck, *loaded.model, 0.0, view);
    view.code = "theory";
    view.done = true;
    view.headline = "BY THE PAPERS.";
    view.verdict = "No load was read yet.";
    return {.view = std::move(view), .faults = {}};
  }

  SpanOpen open = open_before_span(deck, *loaded.model, events, shared, trimmed);
  if (!open.faults.empty()) return {.view = {}, .faults = std::move(open.faults)};
  span::ReadResults read = span::read_results(deck, sets);
  if (!read.results) return {.view = {}, .faults = std::move(read.faults)};
  double greatest_kg = 0.0;
  for (const span::Result& result : read.results->results) {
    greatest_kg = std::max(greatest_kg, result.total_kg);
  }
  show_theory(deck, *loaded.model, greatest_kg, view);
  show_results(deck, *read.results, open.sentences, view);
  return {.view = std::move(view), .faults = {}};
}

}  // namespace weighwright::job
