#include "job/deck_poured.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "deck/concrete.h"
#include "units/diagnostic.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

constexpr std::string_view kAll = "all";

bool waits_for_concrete(const deck::Module& module) {
  return module.construction == deck::Construction::concrete && !module.poured;
}

const deck::Module* find_module(const deck::Deck& deck, std::string_view mark) {
  const auto found = std::find_if(deck.modules.begin(), deck.modules.end(),
                                  [&](const deck::Module& module) { return module.mark == mark; });
  return found == deck.modules.end() ? nullptr : &*found;
}

std::string marks_of(const deck::Deck& deck) {
  std::string list;
  for (const deck::Module& module : deck.modules) list += (list.empty() ? "" : ", ") + module.mark;
  return list;
}

std::string mass_text(const deck::Deck& deck, double mass_kg) {
  if (deck.units == deck::UnitSystem::us)
    return units::print_fixed(mass_kg / units::kPound_kg, 0) + " lb";
  return units::print_fixed(mass_kg, 0) + " kg";
}

std::string rigidity_text(double value_Nm2) {
  return units::print_exact(std::round(value_Nm2 / 1e3) / 1e3) + " MN m2";
}

/// What was assumed of all modules alike is said of each by itself once one of them differs.
void say_by_module(std::vector<deck::Assumed>& assumed,
                   const deck::Deck& deck,
                   const std::string& what) {
  const std::string common = "module.*." + what;
  const auto found = std::find_if(assumed.begin(), assumed.end(),
                                  [&](const deck::Assumed& one) { return one.key == common; });
  if (found == assumed.end()) return;
  const std::string value = found->value;
  auto at = assumed.erase(found);
  for (const deck::Module& module : deck.modules) {
    at = std::next(assumed.insert(at, {"module." + module.mark + "." + what, value}));
  }
}

void set_assumed(std::vector<deck::Assumed>& assumed, const std::string& key, std::string value) {
  const auto found = std::find_if(assumed.begin(), assumed.end(),
                                  [&](const deck::Assumed& one) { return one.key == key; });
  if (found != assumed.end()) {
    found->value = std::move(value);
  } else {
    assumed.push_back({key, std::move(value)});
  }
}

/// @param described  as it stood before the pour
void tell(LoadedDeck& loaded, const deck::Module& described, const deck::Module& poured) {
  const deck::Deck& deck = *loaded.deck;
  const std::string key = "module." + poured.mark + ".";
  for (const char* const what : {"mass", "engineering.twisting", "engineering.bending"}) {
    say_by_module(loaded.assumed, deck, what);
  }
  set_assumed(loaded.assumed, key + "mass",
              mass_text(deck, poured.mass_kg) + ": " + mass_text(deck, described.mass_kg) +
                  " before the pour, and " + mass_text(deck, deck::concrete_kg(described)) +
                  " of concrete by its slab (2500 kg/m3)");
  set_assumed(loaded.assumed, key + "engineering.twisting",
              rigidity_text(poured.twisting_Nm2) + ", times or divided by " +
                  units::print_exact(poured.twisting_spread) +
                  (described.twisting_given ? " (frame as given, and slab)" : " (slab)"));
  set_assumed(loaded.assumed, key + "engineering.bending",
              rigidity_text(poured.bending_Nm2) + ", as described before the pour");
}

}  // namespace

std::vector<std::string> unpoured(const deck::Deck& deck) {
  std::vector<std::string> marks;
  for (const deck::Module& module : deck.modules) {
    if (waits_for_concrete(module)) marks.push_back(module.mark);
  }
  return marks;
}

std::vector<std::string> poured_between(const deck::Deck& before, const deck::Deck& after) {
  std::vector<std::string> marks;
  for (const deck::Module& module : after.modules) {
    const deck::Module* const was = find_module(before, module.mark);
    if (was != nullptr && waits_for_concrete(*was) && module.poured) marks.push_back(module.mark);
  }
  return marks;
}

PourSaid pour_said(const record::Draft& pour, const deck::Deck& deck) {
  const std::string typed(record::field(pour.fields, "module"));
  PourSaid said;
  if (typed == kAll && find_module(deck, kAll) == nullptr) {
    said.marks = unpoured(deck);
    if (!said.marks.empty()) return said;
    said.what = "no module of this deck is described as concrete that is still to be poured";
    said.expected =
        "a deck file that says construction = \"concrete\" and poured = false of what was poured";
    return said;
  }
  const deck::Module* const module = find_module(deck, typed);
  if (module == nullptr) {
    said.what = "there is no module " + units::quote(typed) + " on this deck";
    said.expected = "all, or one of " + marks_of(deck);
  } else if (module->construction != deck::Construction::concrete) {
    said.what = "module " + typed + " is not described as concrete";
    said.expected = "a deck file first that says construction = \"concrete\" of it";
  } else if (module->poured) {
    said.what = "module " + typed + " is on record as poured already";
    said.expected =
        "where it stood unpoured until now: the deck file put right first (poured = false; job add "
        "JOB deck.toml --corrects ENTRY)";
  } else {
    said.marks = {typed};
  }
  return said;
}

void pour(LoadedDeck& loaded, const std::set<std::string>& marks) {
  for (deck::Module& module : loaded.deck->modules) {
    if (!marks.contains(module.mark) || !waits_for_concrete(module)) continue;
    const deck::Module described = module;
    deck::pour(module);
    tell(loaded, described, module);
  }
}

}  // namespace weighwright::job
