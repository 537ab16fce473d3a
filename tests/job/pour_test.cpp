/// A concrete deck is another deck before and after its pour: what was read belongs to the deck as
/// it stood then.
///
/// Outside  statics of a simple beam and a hinge, by hand: pans of 2700 kg (150 kg/m2) put 627,
/// 1350
///          and 723 kg on each stand of sections 1, 2 and 3; with 13 500 kg of slab each (2500
///          kg/m3, EN 1991-1-1:2002, table A.1) six times that. 20 mV at 30 t.

#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "job/asks.h"
#include "job/site_advice.h"
#include "job/site_evidence.h"
#include "job/site_state.h"
#include "job/steps.h"
#include "pen.h"

// outside check: dead loads of a concrete deck of two modules before and after its pour | statics
// of a
//  beam and a hinge by hand, 2500 kg/m3 of EN 1991-1-1:2002, table A.1

namespace weighwright::job {
namespace {

using testing::correction;
using testing::Pen;
using testing::table;
using testing::tick;
using testing::undo;
using testing::visit;

const std::string kPit = "00000000000000aa";

const std::string kPan =
    "stand,mV,no_load\n1L,0.418,0\n1R,0.418,0\n2L,0.900,0\n2R,0.900,0\n3L,0.482,0\n3R,0.482,0\n";
const std::string kSlab = "stand,mV\n1L,2.508\n1R,2.508\n2L,5.400\n2R,5.400\n3L,2.893\n3R,2.893\n";
const std::string kMap = "loaded,moved\n1L,1L\n1R,1R\n2L,2L\n2R,2R\n3L,3L\n3R,3R\n";
const std::string kCorners =
    "at,load_kg,indication_kg,zero_before,zero_after\n1L,10000,10000,0,0\n1R,10000,10000,0,0\n"
    "2L,10000,10000,0,0\n2R,10000,10000,0,0\n3L,10000,10000,0,0\n3R,10000,10000,0,0\n";
const std::string kLoads = "load_kg,indication_kg\n0,0\n20000,20000\n40000,40000\n";

std::string deck_text(bool poured) {
  std::ifstream file(WEIGHWRIGHT_SOURCE_DIR "/examples/concrete-shims.toml");
  std::stringstream stream;
  stream << file.rdbuf();
  std::string text = stream.str();
  const std::string is = "poured = true";
  for (std::size_t at = text.find(is); !poured && at != std::string::npos; at = text.find(is)) {
    text.replace(at, is.size(), "poured = false");
  }
  return text;
}

record::Draft deck(bool poured) {
  return {.kind = "deck",
          .fields = {{"file", "deck.toml"}, {"text", deck_text(poured)}},
          .corrects = {}};
}

record::Draft pour(const std::string& module) {
  return {.kind = "pour", .fields = {{"module", module}}, .corrects = {}};
}

struct Seen {
  SiteState state;
  SiteAdvice advice;
  Progress progress;
};

Seen look(const Pen& pen) {
  Seen seen{.state = site_state_of(pen.all()), .advice = {}, .progress = {}};
  if (seen.state.deck) seen.advice = advise_site(seen.state);
  seen.progress = progress_of(seen.state, seen.advice);
  return seen;
}

const Step& step(const Seen& seen, const std::string& code) {
  for (const Step& one : seen.progress.steps) {
    if (one.code == code) return one;
  }
  throw std::out_of_range("no step " + code);
}

/// A new deck with empty pans, wired, dressed, mapped.
Pen pans() {
  Pen pen;
  pen.write(kPit, visit("install"));
  pen.write(kPit, deck(false));
  for (const char* const name :
       {"locked_out", "received", "set_down", "wired", "panels_on", "rods_slack", "nothing_touches",
        "nobody_on_deck", "warm", "same_meter"}) {
    pen.write(kPit, tick(name));
  }
  pen.write(kPit, table(kMap));
  return pen;
}

double mass_kg(const SiteState& state) {
  double sum = 0.0;
  for (const deck::Module& module : state.deck->deck->modules) sum += module.mass_kg;
  return sum;
}

TEST(Pour, IsAskedForAfterTheCoarseBalance) {
  Pen pen = pans();
  EXPECT_EQ(look(pen).progress.next.code, "read_cells");
  EXPECT_EQ(step(look(pen), "pour").state, StepState::blocked);
  pen.write(kPit, table(kPan));
  const Seen seen = look(pen);
  EXPECT_EQ(step(seen, "share").state, StepState::done) << step(seen, "share").why;
  EXPECT_EQ(seen.progress.next.code, "pour");
  EXPECT_EQ(seen.progress.next.step, "pour");
  EXPECT_EQ(seen.progress.next.names, (std::vector<std::string>{"A", "B"}));
  EXPECT_FALSE(seen.progress.next.cautions.empty()) << "wet concrete hurts";
  const auto asks = asks_of(seen.state, seen.advice, seen.progress.next);
  ASSERT_EQ(asks.size(), 1U);
  EXPECT_EQ(asks.front().name, "pour");
  EXPECT_EQ(step(seen, "fix").state, StepState::blocked) << "nothing is grouted on an empty pan";
}

TEST(Pour, EndsReadingsOfTheDeckBeforeIt) {
  Pen pen = pans();
  pen.write(kPit, table(kPan));
  pen.write(kPit, table("stand,height_mm\n1L,2\n1R,0\n2L,0\n2R,0\n3L,0\n3R,0\n"));
  pen.write(kPit, table(kCorners));
  pen.write(kPit, table(kLoads));
  pen.write(kPit, pour("all"));
  const Seen seen = look(pen);
  EXPECT_FALSE(seen.advice.share_evidence.anything);
  EXPECT_FALSE(seen.advice.trim_evidence.anything);
  EXPECT_FALSE(seen.advice.span_evidence.anything);
  EXPECT_EQ(seen.advice.share_evidence.lines, std::vector<int>{12}) << "the map, not the heights";
  EXPECT_EQ(seen.progress.next.code, "read_cells");
  EXPECT_EQ(seen.progress.next.step, "share");
  EXPECT_NE(step(seen, "share").why.find("Concrete was poured"), std::string::npos);
  EXPECT_EQ(seen.progress.next.headline, "Read every cell again");
  EXPECT_EQ(seen.progress.next.how.front(), step(seen, "share").why) << "and it says why";
  EXPECT_EQ(seen.state.last_adjustment(), 17) << "a test before it is old";
  EXPECT_FALSE(seen.state.passed_over().has_value());
}

TEST(Pour, EndsWhatWasTickedOfTheDeckBeforeIt) {
  Pen pen = pans();
  pen.write(kPit, table(kPan));
  for (const char* const name : {"balance_accepted", "exercised", "restraints_set", "tested"}) {
    pen.write(kPit, tick(name));
  }
  pen.write(kPit, pour("all"));
  pen.write(kPit, table(kSlab));
  const Seen seen = look(pen);
  for (const char* const name : {"balance_accepted", "exercised", "restraints_set", "tested"}) {
    EXPECT_FALSE(seen.state.ticked(name)) << name;
  }
  EXPECT_TRUE(moved_by_restraints(seen.state).empty())
      << "readings of two decks say nothing of restraints";
}

TEST(Pour, LeavesMapAndNoLoadValues) {
  Pen pen = pans();
  pen.write(kPit, table(kPan));
  pen.write(kPit, pour("all"));
  pen.write(kPit, table(kSlab));
  const Seen seen = look(pen);
  EXPECT_TRUE(seen.advice.map.proven);
  const auto& events = seen.advice.share_evidence.events;
  const auto cells = std::find_if(events.begin(), events.end(), [](const auto& one) {
    return std::holds_alternative<record::ReadingSet>(one);
  });
  ASSERT_NE(cells, events.end());
  EXPECT_EQ(std::get<record::ReadingSet>(*cells).stands.front().no_load, 0.0);
}

TEST(Pour, IsJudgedWithThePouredDeckFromThenOn) {
  Pen pen = pans();
  pen.write(kPit, table(kPan));
  EXPECT_NEAR(mass_kg(look(pen).state), 5400.0, 1e-6);
  pen.write(kPit, pour("all"));
  pen.write(kPit, table(kSlab));
  const Seen seen = look(pen);
  EXPECT_NEAR(mass_kg(seen.state), 5400.0 + 27000.0, 1e-6);
  EXPECT_NEAR(seen.state.deck->deck->modules[0].twisting_Nm2, 337.5e6, 1.0);
  EXPECT_EQ(step(seen, "share").state, StepState::done) << step(seen, "share").why;
  EXPECT_EQ(step(seen, "pour").state, StepState::done);
  EXPECT_EQ(seen.progress.next.step, "clear");
  const auto& assumed = seen.state.deck->assumed;
  EXPECT_TRUE(std::any_of(assumed.begin(), assumed.end(), [](const deck::Assumed& one) {
    return one.key == "module.A.mass" &&
           one.value.find("13500 kg of concrete") != std::string::npos;
  }));
}

TEST(Pour, NoLoadComesOntoConcreteThatWasPouredSince) {
  Pen pen = pans();
  pen.write(kPit, table(kPan));
  pen.write(kPit, {.kind = "release",
                   .fields = {{"by", "E. Engineer"},
                              {"foundation", "steel_pad"},
                              {"grounds", "engineer"},
                              {"document", "letter 12"}},
                   .corrects = {}});
  EXPECT_TRUE(look(pen).state.may_load());
  pen.write(kPit, pour("all"));
  EXPECT_FALSE(look(pen).state.may_load()) << "concrete owes a release of its own";
  pen.write(kPit, table(kCorners));
  EXPECT_EQ(look(pen).state.loads_on_ungrouted.size(), 1U) << "a load there is told as a danger";
}

TEST(Pour, DescribedAnewAsPouredIsAPourThere) {
  Pen pen = pans();
  pen.write(kPit, table(kPan));
  pen.write(kPit, deck(true));
  const Seen seen = look(pen);
  EXPECT_EQ(seen.state.pour_line, 14);
  EXPECT_FALSE(seen.advice.share_evidence.anything) << "these were read with empty pans";
  EXPECT_EQ(seen.progress.next.code, "read_cells");
  EXPECT_FALSE(seen.advice.diagnosis && seen.advice.diagnosis->hold)
      << "no fault is found in readings of another deck";
}

TEST(Pour, CorrectedDescriptionIsNoPour) {
  Pen pen;
  pen.write(kPit, visit("install"));
  const std::string described = pen.write(kPit, deck(false));
  pen.write(kPit, tick("locked_out"));
  pen.write(kPit, table(kSlab));
  pen.write(kPit, correction(deck(true), described));
  const Seen seen = look(pen);
  EXPECT_EQ(seen.state.pour_line, -1);
  EXPECT_TRUE(seen.advice.share_evidence.anything);
}

TEST(Pour, DescribedAgainAfterItDoesNotTakeTheConcreteOut) {
  Pen pen = pans();
  pen.write(kPit, pour("all"));
  pen.write(kPit, table(kSlab));
  pen.write(kPit, deck(false));
  const Seen again = look(pen);
  EXPECT_NEAR(mass_kg(again.state), 32400.0, 1e-6);
  EXPECT_TRUE(again.advice.share_evidence.anything);
  pen.write(kPit, deck(true));
  const Seen told = look(pen);
  EXPECT_NEAR(mass_kg(told.state), 32400.0, 1e-6) << "nor is it poured twice";
  EXPECT_TRUE(told.advice.share_evidence.anything) << "it was poured already";
}

TEST(Pour, TakenBackLeavesTheDeckAsItWas) {
  Pen pen = pans();
  pen.write(kPit, table(kPan));
  const std::string entry = pen.write(kPit, pour("all"));
  pen.write(kPit, undo(entry));
  const Seen seen = look(pen);
  EXPECT_NEAR(mass_kg(seen.state), 5400.0, 1e-6);
  EXPECT_TRUE(seen.advice.share_evidence.anything);
  EXPECT_EQ(seen.progress.next.code, "pour");
}

TEST(Pour, OfOneModuleAsksForTheOtherBeforeAnythingIsBalanced) {
  Pen pen = pans();
  pen.write(kPit, table(kPan));
  pen.write(kPit, pour("A"));
  const Seen seen = look(pen);
  EXPECT_NEAR(mass_kg(seen.state), 5400.0 + 13500.0, 1e-6);
  EXPECT_EQ(seen.progress.next.code, "pour");
  EXPECT_EQ(seen.progress.next.names, std::vector<std::string>{"B"});
}

TEST(Pour, OfAModuleThatIsNotThereIsToldAndEndsReadingsAllTheSame) {
  Pen pen = pans();
  pen.write(kPit, table(kPan));
  pen.write(kPit, pour("Q"));
  const Seen seen = look(pen);
  ASSERT_EQ(seen.state.faults.size(), 1U);
  EXPECT_EQ(seen.state.faults.front().what, "there is no module \"Q\" on this deck");
  EXPECT_FALSE(seen.advice.share_evidence.anything);
}

TEST(Pour, ReadingsBeforeItAreNotWhatWasRightBefore) {
  Pen pen = pans();
  pen.write(kPit, table(kPan));
  pen.write(kPit, table("zero_kg\n0\n"));
  pen.write(kPit, pour("all"));
  pen.write(kPit, visit("service"));
  pen.write(kPit, table(kSlab));
  const DiagnosisEvidence evidence = diagnosis_evidence(site_state_of(pen.all()));
  EXPECT_TRUE(std::none_of(evidence.what.before.begin(), evidence.what.before.end(),
                           [](const record::Measurement& one) {
                             return std::holds_alternative<record::ReadingSet>(one) ||
                                    std::holds_alternative<record::ZeroSet>(one);
                           }));
}

}  // namespace
}  // namespace weighwright::job
