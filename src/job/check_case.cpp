#include "job/check_case.h"

#include <fmt/format.h>

#include "job/plan_of_deck.h"
#include "job/speak.h"
#include "proof/scale_of.h"
#include "rules/limits.h"
#include "rules/reading/read_rulebook.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

std::string place(const deck::Deck& deck, double at_m) {
  return deck.units == deck::UnitSystem::us ? units::print_fixed(at_m / units::kFoot_m, 2)
                                            : units::print_fixed(at_m, 2);
}

/// Distances along the deck, so that a slip of the tape shows at a glance.
void add_places(const deck::Deck& deck, report::PlanView& plan) {
  const std::string unit = deck.units == deck::UnitSystem::us ? "ft" : "m";
  report::PlanRow from_end{.label = unit, .cells = {}};
  report::PlanRow between{.label = "apart", .cells = {}};
  for (std::size_t i = 0; i < deck.sections.size(); ++i) {
    const double at_m = deck.sections[i].at_m;
    from_end.cells.push_back(place(deck, at_m));
    between.cells.push_back(i == 0 ? "" : "+" + place(deck, at_m - deck.sections[i - 1].at_m));
  }
  plan.pairs = {from_end, between};
}

std::string headline(const deck::Deck& deck) {
  const Speaker say(deck);
  double mass_kg = 0.0;
  for (const deck::Module& module : deck.modules) mass_kg += module.mass_kg;
  return fmt::format("{}: no faults. {} on {} ({}), {} long, deck about {}.", deck.name,
                     count_of(static_cast<int>(deck.modules.size()), "module"),
                     count_of(static_cast<int>(deck.sections.size()), "section"),
                     count_of(deck.stand_count(), "stand"),
                     place(deck, deck.length_m()) + (say.us() ? " ft" : " m"),
                     say.mass(mass_kg * deck.site.gravity_m_per_s2));
}

/// "class III has at most 10000; an interval of 10 kg or more (R 76-1:2006, 3.2, Table 3)".
units::Diagnostic told(const InputFile& file,
                       const rules::Rulebook& rulebook,
                       const rules::ClassFault& fault) {
  std::string clause = rulebook.cite(fault.source);
  if (fault.source.basis == rules::Basis::memory) clause += ", " + rules::pedigree(fault.source);
  return {.file = file.name,
          .line = 0,
          .column = 0,
          .what = fault.what,
          .expected = fmt::format("{} ({})", fault.expected, clause)};
}

/// Class, interval, capacity and CLC by the deck's rulebook: what breaks a rule is a fault, what
/// can not be judged is a note.
void judge_class(const InputFile& file, LoadedDeck& loaded) {
  const rules::Rulebook& rulebook = rules::built_in(loaded.deck->rulebook);
  for (const rules::ClassFault& fault :
       rules::class_faults(rulebook, proof::scale_of(*loaded.deck))) {
    (fault.breaks ? loaded.faults : loaded.notes).push_back(told(file, rulebook, fault));
  }
}

}  // namespace

CheckAnswer check_case(const InputFile& file) {
  LoadedDeck loaded = load_deck(file);
  if (!loaded.ok()) return {.view = {}, .faults = std::move(loaded.faults)};
  judge_class(file, loaded);
  if (!loaded.faults.empty()) return {.view = {}, .faults = std::move(loaded.faults)};
  const deck::Deck& deck = *loaded.deck;
  report::CheckView view;
  view.deck_name = deck.name;
  view.headline = headline(deck);
  view.plan = plan_of(deck);
  add_places(deck, view.plan);
  for (const units::Diagnostic& note : loaded.notes) view.notes.push_back(units::print(note));
  view.assumed = std::move(loaded.assumed);
  return {.view = std::move(view), .faults = {}};
}

}  // namespace weighwright::job
