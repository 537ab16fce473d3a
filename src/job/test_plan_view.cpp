#include <fmt/format.h>

#include <cmath>

#include "job/drawn_deck.h"
#include "job/indication_words.h"
#include "job/plan_case.h"
#include "job/rulebook_of.h"
#include "job/test_words.h"
#include "job/users_units.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using proof::Placement;
using rules::Check;

class PlanWords {
 public:
  PlanWords(const deck::Deck& deck, const rules::Rulebook& rulebook)
      : deck_(deck), rulebook_(rulebook), say_(deck) {}

  report::PlacementView view_of(const Placement& placement) const {
    report::PlacementView view;
    view.number = placement.number;
    view.check = std::string(rules::code_of(placement.check));
    view.name = test_name(rulebook_, placement.check);
    view.run = placement.run;
    view.range = placement.range;
    view.at = place_text(placement.place);
    view.where = place_words(placement.place);
    view.heading = std::string(heading_code(placement.heading));
    view.weights = taken_text(placement.weights);
    for (const std::string& one : placement.substitutes) {
      view.materials += (view.materials.empty() ? "" : "+") + one;
    }
    view.weights_kg = placement.weights_kg;
    view.load_kg = placement.load_kg;
    if (placement.limit) view.limit_kg = placement.limit->kg;
    view.clause = placement.required ? rulebook_.cite(placement.source) : "";
    view.required = placement.required;
    view.read_zero_before = placement.read_zero_before;
    view.read_zero_after = placement.read_zero_after;
    if (placement.added_d > 0.0) {
      view.added_kg = placement.added_d * deck_.display_at_kg(placement.load_kg);
    }
    if (placement.handling) view.handling = std::string(handling_code(*placement.handling));
    view.minutes = placement.minutes;
    view.sentence = sentence_of(placement, view);
    view.because = in_users_units(deck_, placement.because);
    if (!view.because.empty() && view.because[0] >= 'a' && view.because[0] <= 'z') {
      view.because[0] = static_cast<char>(view.because[0] - 'a' + 'A');
    }
    for (const proof::Patch& patch : placement.patches) {
      view.patches.push_back({.x_m = patch.x_m,
                              .y_m = patch.y_m,
                              .along_m = patch.along_m,
                              .across_m = patch.across_m});
    }
    return view;
  }

 private:
  std::string load_words(const Placement& placement, const report::PlacementView& view) const {
    std::string text = say_.load(placement.load_kg);
    std::string made_of = view.weights;
    if (!view.materials.empty()) made_of += (made_of.empty() ? "" : " + ") + view.materials;
    return made_of.empty() ? text : text + " (" + made_of + ")";
  }

  std::string sentence_of(const Placement& placement, const report::PlacementView& view) const {
    std::string text;
    std::string first;
    switch (placement.check) {
      case Check::zero:
        text = "Empty deck: set zero, then read it";
        break;
      case Check::discrimination:
        // A display that must move two steps for 1.4 does so only from just under the next one.
        if (rulebook_.discrimination_change_d.value > 1.5) {
          first = "With small weights bring the display to just under its next step. ";
        }
        text = placement.load_kg > 0.0 ? load_words(placement, view) + " on the deck: read"
                                       : std::string("Empty deck: read");
        text += fmt::format(", add {} gently, read again: the display must move by {} or more",
                            say_.mass(view.added_kg.value_or(0.0)), moved(placement.load_kg));
        break;
      case Check::rolling:
        text = load_words(placement, view) + " rolled on and stopped";
        break;
      case Check::strain:
        text = fmt::format("An unknown load on the deck is read, then {} beside it",
                           load_words(placement, view));
        break;
      default:
        text = load_words(placement, view);
    }
    for (const std::string& more : {view.where, heading_words(placement.heading)}) {
      if (!more.empty()) text += (placement.check == Check::rolling ? ", " : " ") + more;
    }
    if (view.range > 0) text += fmt::format(", range {}", view.range);
    if (view.limit_kg) text += ": within " + say_.mass(*view.limit_kg);
    return first + text + ".";
  }

  std::string moved(double load_kg) const {
    return say_.mass(rulebook_.discrimination_change_d.value * deck_.display_at_kg(load_kg));
  }

  const deck::Deck& deck_;
  const rules::Rulebook& rulebook_;
  IndicationWords say_;
};

/// What stands on the deck as test loads can hurt.
std::vector<std::string> cautions() {
  return {
      "Loads are driven, lifted and rigged by licensed people only, by the local code; nobody on, "
      "below or beside the deck while one moves, and no hand under a hanging weight.",
      "Wheels chocked before anyone goes near; stay within the section and axle loads that the "
      "plan "
      "was checked for."};
}

std::string standards_words(const deck::Deck& deck,
                            const rules::Rulebook& rulebook,
                            const proof::TestPlan& plan) {
  const IndicationWords say(deck);
  std::string text =
      fmt::format("Standards needed: {} ({}; {}).", say.load(plan.standards.weights_kg),
                  plan.standards.because, rulebook.cite(plan.standards.source));
  text += fmt::format(" At hand and usable: {}.", say.load(plan.standards_kg));
  return text;
}

std::string headline_of(const proof::TestPlan& plan) {
  if (!plan.possible) return "THIS TEST CAN'T BE MADE AS IT STANDS.";
  return fmt::format("{} PLACEMENTS.", plan.placements.size());
}

std::string number(double value) {
  return units::print_exact(value);
}

/// Figures in the unit of the indications; blank where something is still to be read.
std::string results_table(const deck::Deck& deck, const std::vector<report::PlacementView>& rows) {
  const bool us = deck.units == deck::UnitSystem::us;
  const char* const unit = us ? "lb" : "kg";
  const bool apart = deck.ranges_kind == deck::RangesKind::ranges && deck.ranges.size() > 1;
  std::string text = fmt::format(
      "check,run,at,heading,weights,material,load_{0},zero_before,indication_{0},added_{0},"
      "zero_after,start_{0},then_{0}{1}\n",
      unit, apart ? ",range" : "");
  const auto in_unit = [us](double kg) {
    const double value = us ? kg / units::kPound_kg : kg;
    return number(std::round(value * 1e6) / 1e6);
  };
  for (const report::PlacementView& row : rows) {
    const std::string load =
        in_unit(row.weights.empty() && row.materials.empty() ? row.load_kg : row.weights_kg);
    text +=
        fmt::format("{},{},{},{},{},{},{},,,{},,,{}\n", row.check, row.run, row.at, row.heading,
                    row.weights, row.materials, load, row.added_kg ? in_unit(*row.added_kg) : "",
                    apart ? "," + (row.range > 0 ? std::to_string(row.range) : "") : "");
  }
  return text;
}

void show_plan(const deck::Deck& deck,
               const rules::Rulebook& rulebook,
               const proof::TestPlan& plan,
               report::TestPlanView& view) {
  const PlanWords words(deck, rulebook);
  for (const Placement& placement : plan.placements) {
    view.placements.push_back(words.view_of(placement));
  }
  for (const proof::PlanFinding& finding : plan.findings) {
    view.findings.push_back(
        {.code = finding.code,
         .placement = finding.placement,
         .blocks = finding.blocks,
         .sentence = in_users_units(deck, finding.what),
         .clause = finding.source.clause.empty() ? "" : rulebook.cite(finding.source)});
  }
  for (const record::Handling handling : plan.used) {
    const proof::HandlingCost cost = proof::handling_cost(handling);
    view.set_up.push_back(
        fmt::format("{}: {:.0f} min to set up, once; about {:.0f} min a placement",
                    handling_words(handling), cost.set_up, cost.placement));
  }
}

}  // namespace

report::TestPlanView test_plan_view(const LoadedDeck& loaded,
                                    const rules::Rulebook& rulebook,
                                    const proof::PlanRequest& request) {
  const deck::Deck& deck = *loaded.deck;
  const proof::TestPlan plan = proof::plan_test(deck, *loaded.model, rulebook, request);
  report::TestPlanView view;
  view.deck_name = deck.name;
  view.rulebook = rulebook_title(rulebook);
  view.accuracy_class = deck.accuracy_class;
  view.occasion = std::string(rules::code_of(request.occasion));
  view.occasion_says = occasion_words(rulebook, request.occasion);
  view.possible = plan.possible;
  view.headline = headline_of(plan);
  view.minutes = plan.minutes;
  view.least_minutes = plan.least_minutes;
  view.standards = standards_words(deck, rulebook, plan);
  view.cautions = cautions();
  view.notes = {
      "Minutes a piece and a placement are a common day's work, no source.",
      "Read zero before and after every load, tracking and filters as found; three to five loaded "
      "passes both ways with braking before the first reading (common practice, no source).",
      "Not planned, and answered in one line each or told to be no part of the test: accuracy of "
      "tare "
      "(tare), displays and printer (indications), range of zero (zero_range), greatest indication "
      "(overload: from the set-up or with a signal simulator, never by a load above Max)."};
  show_plan(deck, rulebook, plan, view);
  view.table = results_table(deck, view.placements);
  view.assumed = loaded.assumed;
  view.plan = drawn_deck(deck);
  return view;
}

}  // namespace weighwright::job
