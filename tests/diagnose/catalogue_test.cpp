// Every fault on simulated sites whose physics is not that of the diagnosis (bench/fault_trial), at
// fixed seeds: a small version of the printed table.
#include "diagnose/catalogue.h"

#include <gtest/gtest.h>

#include <string>
#include <utility>
#include <vector>

#include "fault_trial/trial.h"
#include "rehearsal/fault.h"
#include "visits.h"

namespace weighwright::diagnose {
namespace {

using bench::FaultTrial;
using bench::Stage;

struct Ground {
  deck::Deck deck;
  statics::Model model;
};

const std::vector<Ground>& grounds() {
  static const std::vector<Ground> list = [] {
    std::vector<Ground> decks;
    for (const char* const path : {"examples/three-modules.toml", "examples/one-module.toml",
                                   "examples/digital.toml", "examples/concrete-shims.toml"}) {
      deck::Deck deck = tests::deck_of(path);
      statics::Model model = tests::model_of(deck);
      decks.push_back({std::move(deck), std::move(model)});
    }
    return decks;
  }();
  return list;
}

TEST(Catalogue, EveryFaultOfASiteHasASuspect) {
  for (const rehearsal::FaultRule& rule : rehearsal::fault_rules()) {
    EXPECT_NE(find_kind(rule.code), nullptr) << rule.code;
  }
}

TEST(Catalogue, AModuleOfOnePieceHasNoHalvesWhoseBoltsAreLoose) {
  deck::Deck deck = tests::deck_of("examples/three-modules.toml");
  const statics::Model model = tests::model_of(deck);
  const auto places = [&] {
    std::string list;
    for (const Suspect& suspect : suspects_of(deck, model, {}, true)) {
      if (suspect.kind->code == "bolts_loose") list += suspect.where;
    }
    return list;
  };
  EXPECT_EQ(places(), "ABC");
  deck.modules[0].halves = false;
  deck.modules[1].halves = true;
  EXPECT_EQ(places(), "BC");
}

class StruckSites : public ::testing::TestWithParam<std::string> {};

/// In service nothing may be adjusted while a fault changes what it answers to, and the fault is
/// named at last (or is small: then no reading that matters has changed).
TEST_P(StruckSites, HoldBackWhatWouldChaseTheFault) {
  int sites = 0;
  int named = 0;
  int matter = 0;
  for (const Ground& ground : grounds()) {
    for (const std::uint64_t seed : {11U, 12U}) {
      const FaultTrial trial =
          bench::try_fault(ground.deck, ground.model, GetParam(), Stage::service, seed);
      if (!trial.struck) continue;
      ++sites;
      EXPECT_FALSE(trial.harmful) << GetParam() << " on " << ground.deck.name << ", seed " << seed;
      named += trial.first_after ? 1 : 0;
      matter += trial.changes ? 1 : 0;
    }
  }
  if (sites == 0) GTEST_SKIP() << "no deck of these can have it";
  EXPECT_GT(named, 0) << GetParam() << " on " << sites << " sites, " << matter
                      << " of them changed";
}

std::vector<std::string> codes() {
  std::vector<std::string> list;
  for (const rehearsal::FaultRule& rule : rehearsal::fault_rules()) {
    if (rule.code != "wrong_turn") list.emplace_back(rule.code);
  }
  return list;
}
INSTANTIATE_TEST_SUITE_P(Faults,
                         StruckSites,
                         ::testing::ValuesIn(codes()),
                         [](const auto& instance) { return instance.param; });

TEST(SoundSites, MostlyPass) {
  int held = 0;
  int sites = 0;
  for (const Ground& ground : grounds()) {
    for (std::uint64_t seed = 31; seed < 36; ++seed) {
      for (const Stage stage : {Stage::service, Stage::sharing}) {
        const FaultTrial trial = bench::try_fault(ground.deck, ground.model, "", stage, seed);
        ASSERT_TRUE(trial.struck);
        ++sites;
        held += trial.hold ? 1 : 0;
      }
    }
  }
  EXPECT_LE(held, sites / 20) << held << " of " << sites;
}

TEST(Diagnosing, IsTheSameAgain) {
  const Ground& ground = grounds().front();
  const FaultTrial a = bench::try_fault(ground.deck, ground.model, "moisture", Stage::service, 5);
  const FaultTrial b = bench::try_fault(ground.deck, ground.model, "moisture", Stage::service, 5);
  ASSERT_EQ(a.visit.causes.size(), b.visit.causes.size());
  EXPECT_EQ(a.visit.causes.front().probability, b.visit.causes.front().probability);
  EXPECT_EQ(a.visit.next.size(), b.visit.next.size());
}

}  // namespace
}  // namespace weighwright::diagnose
