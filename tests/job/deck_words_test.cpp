// What a deck file's halves and restraint put into the words of a step, and what the map's words
// say above a plan.
#include "job/deck_words.h"

#include <gtest/gtest.h>

#include "job/judgement_words.h"

namespace weighwright::job {
namespace {

deck::Deck two_modules() {
  deck::Deck deck;
  for (const char* const mark : {"A", "B"}) {
    deck::Module module;
    module.mark = mark;
    module.length_m = 10.0;
    deck.modules.push_back(module);
  }
  return deck;
}

Action ticked(const std::string& name) {
  Action action;
  action.code = "tick";
  action.names = {name};
  action.how = {"As for any deck."};
  return action;
}

std::string last_words(const deck::Deck& deck, Action action) {
  add_deck_words(deck, action);
  return action.how.back();
}

// By hand: 20 m of steel, 12e-6 per K (EN 1991-1-5:2003, table C.1; from memory, unverified), half
// at each end: 1.2 mm for 10 K.
TEST(DeckWords, GapsOfBumpersAreAskedForByTheSteelsTemperature) {
  deck::Deck deck = two_modules();
  deck.restraint = {.kind = deck::Restraint::Kind::gap, .gap_m = 5e-3, .temperature_degC = 20.0};
  const std::string words = last_words(deck, ticked("restraints_set"));
  EXPECT_NE(words.find("6.2 mm at 10 degC, 5.0 mm at 20 degC, 3.8 mm at 30 degC"),
            std::string::npos)
      << words;
  deck.restraint.temperature_degC.reset();
  EXPECT_NE(last_words(deck, ticked("restraints_set")).find("look at the drawing"),
            std::string::npos);
}

TEST(DeckWords, RodsAreNamedWhenTheRestraintsAreSetAndWhileItIsBalanced) {
  deck::Deck deck = two_modules();
  EXPECT_EQ(last_words(deck, ticked("restraints_set")), "As for any deck.");
  deck.restraint.kind = deck::Restraint::Kind::rods;
  EXPECT_NE(last_words(deck, ticked("restraints_set")).find("rods"), std::string::npos);
  Action conditions = ticked("rods_slack");
  conditions.code = "conditions";
  EXPECT_NE(last_words(deck, conditions).find("rods: slack at both ends"), std::string::npos);
  EXPECT_EQ(last_words(deck, ticked("grouted")), "As for any deck.");
}

TEST(DeckWords, ModulesThatCameInHalvesAreNamedWhenTheyAreSetDown) {
  deck::Deck deck = two_modules();
  EXPECT_EQ(last_words(deck, ticked("set_down")), "As for any deck.");
  deck.modules[1].halves = true;
  EXPECT_EQ(last_words(deck, ticked("set_down")),
            "B came in halves: the bolts between them are tight before it is lowered.");
}

TEST(MapWords, SpeakOfOneStandOnlyAboveAPlanOfOneStand) {
  const deck::Deck deck = two_modules();
  share::Advice advice;
  const auto words = [&] {
    for (const report::JudgementView& view : judgements_of(deck, advice)) {
      if (view.code == "map") return view.sentence;
    }
    return std::string();
  };
  EXPECT_EQ(words().find("one stand"), std::string::npos) << "nothing is to be moved";
  advice.moves.emplace_back();
  EXPECT_NE(words().find("Until then one stand at a time."), std::string::npos);
  advice.map_proven = true;
  advice.moves.emplace_back();
  EXPECT_EQ(words(), "Stand-to-cell map proven.");
}

}  // namespace
}  // namespace weighwright::job
