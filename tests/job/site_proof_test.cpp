/// The test by the rulebook as a journal tells it: as found and as left, what is old, what is next.
///
/// Outside  OIML R 76-1:2006, table 6 (class III: 0.5 e to 500 e, 1 e to 2000 e), 3.5.2 (twice in
///          service): as the facts of the rulebooks quote them. Frozen as-found results and amended
///          reports: ISO/IEC 17025:2017, 7.8.4.1 d, 7.8.8 (quoted). Counters: HB 44, S.1.11 (from
///          memory, unverified).
// outside check: as-found results stay as they were read, an amended report is a new one that names
//  what it replaces | ISO/IEC 17025:2017, 7.8.4.1 d, 7.8.8 (as quoted in public digests)

#include "job/site_proof.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "job/counters.h"
#include "job/prove_case.h"
#include "job/report_case.h"
#include "job/report_parts.h"
#include "pen.h"

namespace weighwright::job {
namespace {

using testing::correction;
using testing::Pen;
using testing::table;
using testing::tick;
using testing::visit;

const std::string kPit = "00000000000000aa";

std::string example(const std::string& name) {
  std::ifstream file(WEIGHWRIGHT_SOURCE_DIR "/examples/" + name);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

record::Draft entry(const std::string& kind, record::Fields fields) {
  return {.kind = kind, .fields = std::move(fields), .corrects = {}};
}

/// A service call on the three-module deck, its weights and occasion on record.
class SiteProofTest : public ::testing::Test {
 protected:
  void SetUp() override {
    write(entry("deck", {{"file", "deck.toml"}, {"text", example("three-modules.toml")}}));
    write(visit("service"));
    write(table(example("three-modules-weights.csv"), "weights.csv"));
    write(entry("occasion", {{"occasion", "adjusted"}}));
  }

  std::string write(record::Draft draft) { return pen_.write(kPit, std::move(draft)); }

  std::string write_results(const std::string& rows) {
    return write(
        table("check,at,load_kg,indication_kg,zero_before,zero_after\n" + rows, "results.csv"));
  }

  SiteProof look(bool with_plan = true) {
    state_ = site_state_of(pen_.all());
    return site_proof_of(state_, with_plan);
  }

  Pen pen_;
  SiteState state_;
};

TEST_F(SiteProofTest, ResultsBeforeTheFirstAdjustmentAreAsFound) {
  write_results("increasing,,10000,10030,0,0\n");
  write(table("trim,turns\n2L,0.25\n", "trims.csv"));
  write_results("increasing,,10000,10010,0,0\n");
  const SiteProof proof = look();
  ASSERT_EQ(proof.found.results.size(), 1U);
  ASSERT_EQ(proof.left.results.size(), 1U);
  EXPECT_EQ(proof.found.results[0].readings[0].reading.indication_kg, 10030.0);
  EXPECT_EQ(proof.found.occasion, rules::Occasion::as_found);
  EXPECT_EQ(proof.left.first_fresh, 0);
  ASSERT_TRUE(proof.verdict);
  EXPECT_EQ(proof.verdict->lines.size(), 1U);
  EXPECT_EQ(proof.verdict->lines[0].limit_kg, 10.0);  // table 6, 0.5 e up to 500 e
}

TEST_F(SiteProofTest, WithoutAnAdjustmentThereIsOneSetOfResults) {
  write_results("increasing,,10000,10010,0,0\n");
  const SiteProof proof = look();
  EXPECT_TRUE(proof.found.results.empty());
  EXPECT_EQ(proof.left.results.size(), 1U);
}

TEST_F(SiteProofTest, ResultsOlderThanTheLastTrimSpanOrCellAreRefused) {
  write(table("trim,turns\n2L,0.25\n", "trims.csv"));
  write_results("increasing,,10000,10000,0,0\n");
  EXPECT_EQ(look().left.first_fresh, 0);
  const record::Draft old[] = {
      table("trim,turns\n2L,0.25\n", "trims.csv"),
      entry("setting", {{"name", "span"}, {"value", "times 1.001"}, {"when", "left"}}),
      entry("cell_replaced", {{"stand", "2L"}, {"new_serial", "77"}}), tick("mended")};
  for (const record::Draft& after : old) {
    Pen before = pen_;
    write(after);
    const SiteProof proof = look();
    EXPECT_EQ(proof.left.first_fresh, 1) << after.kind;
    ASSERT_TRUE(proof.verdict);
    EXPECT_EQ(proof.verdict->outcome, "refused") << after.kind;
    pen_ = before;
  }
  // What has no part in a weighing makes nothing old.
  write(entry("setting", {{"name", "printer"}, {"value", "on"}, {"when", "left"}}));
  EXPECT_EQ(look().left.first_fresh, 0);
}

TEST_F(SiteProofTest, AResultCountsForOnePlacementAndThatIsDone) {
  const SiteProof before = look();
  ASSERT_TRUE(before.plan);
  ASSERT_GE(before.next, 0);
  const auto& placements = before.plan->placements;
  const auto first = std::find_if(placements.begin(), placements.end(),
                                  [](const auto& one) { return one.check == "eccentric"; });
  ASSERT_NE(first, placements.end());
  write_results("eccentric," + first->at + "," + std::to_string(first->load_kg) + ",9000,0,0\n");
  const SiteProof after = look();
  ASSERT_TRUE(after.plan);
  int done = 0;
  for (const int by : after.done_by) done += by > 0 ? 1 : 0;
  EXPECT_EQ(done, 1);
}

TEST_F(SiteProofTest, TheLimitsFollowTheOccasion) {
  write(
      table("check,load_kg,indication_kg,zero_before,zero_after,resolution\n"
            "increasing,10000,10015,0,0,1\n",
            "results.csv"));
  EXPECT_EQ(look().verdict->lines[0].verdict, "fail");
  write(entry("occasion", {{"occasion", "routine"}}));
  EXPECT_EQ(look().verdict->lines[0].limit_kg, 20.0);  // 3.5.2: twice
  EXPECT_EQ(look().verdict->lines[0].verdict, "pass");
}

TEST_F(SiteProofTest, TheDayOfTheTestIsThatOfTheResultsNotOfTheTyping) {
  write(
      table("check,load_kg,indication_kg,zero_before,time\n"
            "increasing,10000,10000,0,2019-05-06T10:00+02:00\n",
            "results.csv"));
  SiteProof proof = look();
  EXPECT_EQ(proof.verdict->began, "2019-05-06");
  EXPECT_EQ(proof.verdict->ended, "2019-05-06");
  write_results("increasing,,20000,20000,0,0\n");  // no time: when it was typed
  proof = look();
  EXPECT_EQ(proof.verdict->began, "2019-05-06");
  EXPECT_NE(proof.verdict->ended, "2019-05-06");
  const auto& findings = proof.verdict->findings;
  EXPECT_TRUE(std::any_of(findings.begin(), findings.end(),
                          [](const auto& one) { return one.code == "years_apart"; }));
}

// One rule, whether it stands in the journal or on the command line.
TEST_F(SiteProofTest, TheJournalAndTheCommandSayTheSameByEveryDecisionRule) {
  write(table(example("three-modules-results.csv"), "results.csv"));
  struct Rule {
    const char* decision;
    std::optional<double> guard;
    bool binary;
    const char* outcome;
  };
  for (const Rule& rule :
       {Rule{"simple", {}, false, "pass"}, Rule{"guarded", 1.0, false, "conditional_pass"},
        Rule{"guarded_binary", 1.0, true, "not_accepted"}}) {
    write(entry("occasion", {{"occasion", "new"}, {"decision", rule.decision}}));
    const SiteProof proof = look();
    ASSERT_TRUE(proof.verdict);
    ProveCaseRequest request;
    request.deck = {.name = "deck.toml", .text = example("three-modules.toml")};
    request.files = {{.name = "weights.csv", .text = example("three-modules-weights.csv")},
                     {.name = "results.csv", .text = example("three-modules-results.csv")}};
    request.occasion = "new";
    request.day = proof.left.day;
    request.guard = rule.guard;
    request.binary = rule.binary;
    const auto command = prove_case(request).view;
    ASSERT_TRUE(command);
    EXPECT_EQ(proof.verdict->decision, rule.decision);
    EXPECT_EQ(proof.verdict->outcome, rule.outcome) << proof.verdict->headline;
    EXPECT_EQ(command->outcome, rule.outcome);
    EXPECT_EQ(command->headline, proof.verdict->headline);
  }
}

TEST_F(SiteProofTest, ALaterTableOfWeightsTakesOverLinesOfTheSameName) {
  write(table("id,nominal_kg,class,certificate,expires\nW,1000,M1,NEW-1,2030-01-01\n", "w.csv"));
  const SiteProof proof = look(false);
  const auto w = std::find_if(proof.weights.begin(), proof.weights.end(),
                              [](const record::Weight& one) { return one.id == "W"; });
  ASSERT_NE(w, proof.weights.end());
  EXPECT_EQ(w->certificate, "NEW-1");
  EXPECT_GT(proof.weights.size(), 1U);
}

// Edge case 25 of the facts: counters only go up; a drop is a wrap at 999 or another board: asked.
TEST_F(SiteProofTest, EdgeCase25CountersThatDropAreAskedAbout) {
  write(entry("counter", {{"name", "calibration"}, {"value", "998"}, {"when", "found"}}));
  EXPECT_TRUE((look(false), counter_warnings(state_)).empty());
  write(entry("counter", {{"name", "calibration"}, {"value", "001"}, {"when", "left"}}));
  look(false);
  const auto warnings = counter_warnings(state_);
  ASSERT_EQ(warnings.size(), 1U);
  EXPECT_NE(warnings[0].find("shows 001, and showed 998"), std::string::npos);
  write(entry("counter", {{"name", "configuration"}, {"value", "3"}, {"when", "left"}}));
  look(false);
  EXPECT_EQ(counter_warnings(state_).size(), 1U);  // another counter
}

// Edge case 26: as found is frozen before the first adjustment.
TEST_F(SiteProofTest, EdgeCase26AsFoundIsFrozenAndALaterReadingAddsNothingToIt) {
  const std::string first = write_results("increasing,,10000,10030,0,0\n");
  write(table("trim,turns\n2L,0.25\n", "trims.csv"));
  write_results("increasing,,20000,20000,0,0\n");
  SiteProof proof = look();
  ASSERT_EQ(proof.found.results.size(), 1U);
  EXPECT_EQ(proof.found.results[0].readings.size(), 1U);
  // A correction made afterwards is told beside it.
  write(correction(table("check,at,load_kg,indication_kg,zero_before,zero_after\n"
                         "increasing,,10000,10020,0,0\n",
                         "results.csv"),
                   first));
  proof = look();
  EXPECT_EQ(state_.as_found_corrected.size(), 1U);
}

// Writing down what was not touched makes no result old, and turns none into one as found.
TEST_F(SiteProofTest, PaperworkAfterTheTestChangesNothing) {
  write(entry("setting", {{"name", "filter"}, {"value", "7"}, {"when", "found"}}));
  write_results("increasing,,10000,10000,0,0\n");
  write(entry("setting", {{"name", "filter"}, {"value", "7"}, {"when", "left"}}));
  write(entry("setting", {{"name", "printer"}, {"value", "on"}, {"when", "left"}}));
  write(entry("seal_broken", {{"number", "A-1"}, {"place", "box"}}));
  const SiteProof proof = look();
  ASSERT_EQ(proof.left.results.size(), 1U);
  EXPECT_EQ(proof.left.first_fresh, 0);
  EXPECT_NE(proof.verdict->outcome, "refused");
}

TEST_F(SiteProofTest, ALinearityThatWasSetMakesResultsOld) {
  write_results("increasing,,10000,10000,0,0\n");
  write(entry("setting", {{"name", "linearisation"}, {"value", "on"}, {"when", "left"}}));
  const SiteProof proof = look();
  EXPECT_TRUE(proof.left.results.empty());
  EXPECT_EQ(proof.found.results.size(), 1U);
}

// A journal of an older version: the value was taken as it was typed.
TEST_F(SiteProofTest, AnOddValueOfAnOldEntryIsToldAndNotUsed) {
  write(entry("weather", {{"temp_degC", "banana"}, {"pressure_hPa", "1003"}}));
  write_results("increasing,,10000,10000,0,0\n");
  const SiteProof proof = look(false);
  EXPECT_FALSE(proof.left.conditions.temperature_low_degC);
  ASSERT_EQ(state_.faults.size(), 1U);
  EXPECT_EQ(state_.faults[0].what, "temp_degC is \"banana\"");
  EXPECT_EQ(state_.faults[0].file, source_name(5, "weather"));
  EXPECT_EQ(proof.left.results.size(), 1U);
}

class MadeApartTest : public SiteProofTest {
 protected:
  /// Loads are read here while a trim is turned there, on a copy; cells were read here too, before.
  void work_apart() {
    pen_.merge(kPit, kOffice);
    write(table("stand,mV\n1L,1\n1R,1\n2L,2\n2R,2\n3L,2\n3R,2\n4L,1\n4R,1\n", "cells.csv"));
    results_ = write_results("increasing,,10000,10000,0,0\n");
    trim_ = pen_.write(kOffice, table("trim,turns\n2L,0.25\n", "trims.csv"));
    pen_.merge(kPit, kOffice);
  }
  /// Every face asks the cases of a verdict: with what they hold it is the same everywhere.
  static bool doubted(const proof::ProofCase& what) { return !what.order_unknown.empty(); }

  const std::string kOffice = "00000000000000bb";
  std::string results_;
  std::string trim_;
};

TEST_F(MadeApartTest, ResultsAndAMoveLeaveTheVerdictIncompleteWhereverItIsAsked) {
  work_apart();
  const SiteProof proof = look();
  const proof::ProofCase& held = proof.left.results.empty() ? proof.found : proof.left;
  EXPECT_TRUE(doubted(held));
  const report::ProofView view =
      proof_view(*state_.deck, *proof.rulebook, held, std::nullopt, proof.standing);
  EXPECT_EQ(view.outcome, "incomplete");
  const auto told = std::find_if(view.findings.begin(), view.findings.end(),
                                 [](const auto& one) { return one.code == "order_unknown"; });
  ASSERT_NE(told, view.findings.end());
  EXPECT_TRUE(told->blocks);
}

TEST_F(MadeApartTest, ResultsAreSureAgainOnceTheTwoEntriesAreSettled) {
  work_apart();
  write(entry("settled", {{"of", trim_}, {"with", results_}, {"remark", "the trim came first"}}));
  const SiteProof proof = look();
  EXPECT_FALSE(doubted(proof.left));
  EXPECT_FALSE(doubted(proof.found));
}

TEST_F(MadeApartTest, ResultsReadAfterBothAreSure) {
  work_apart();
  write(table("trim,turns\n2L,0.125\n", "trims.csv"));
  write_results("increasing,,10000,10000,0,0\n");
  const SiteProof proof = look();
  ASSERT_TRUE(proof.verdict);
  for (const auto& one : proof.verdict->findings) EXPECT_NE(one.code, "order_unknown");
}

TEST_F(SiteProofTest, SealsCountersAndSettingsAreToldFoundAndLeft) {
  write(entry("setting", {{"name", "filter"}, {"value", "7"}, {"when", "found"}}));
  write(entry("counter", {{"name", "calibration"}, {"value", "12"}, {"when", "found"}}));
  write(entry("seal_broken", {{"number", "A-1"}, {"place", "indicator"}}));
  write(entry("setting", {{"name", "filter"}, {"value", "8"}, {"when", "left"}}));
  write(entry("counter", {{"name", "calibration"}, {"value", "13"}, {"when", "left"}}));
  write(entry("seal_applied", {{"number", "B-2"}, {"place", "indicator"}}));
  look(false);
  const auto seals = seals_of(state_);
  ASSERT_EQ(seals.size(), 4U);
  EXPECT_EQ(seals[0].when, "found");
  EXPECT_EQ(seals[1].when, "found");
  EXPECT_EQ(seals[3].when, "left");
  const auto settings = settings_of(state_);
  ASSERT_EQ(settings.size(), 1U);
  EXPECT_EQ(settings[0].second, "found 7, left 8");
}

TEST_F(SiteProofTest, WhatWasLeftOpenStandsOnThePapers) {
  record::Draft over = tick("handed_over");
  over.fields.emplace_back("remark", "no weights came");
  write(over);
  Looked looked;
  looked.state = site_state_of(pen_.all());
  looked.advice = advise_site(looked.state);
  looked.progress = progress_of(looked.state, looked.advice);
  const std::string told = handed_over_open(looked.state, looked.progress);
  EXPECT_EQ(told,
            "Handed over with these left open: As found; Corner adjustment; Span; Test. no weights "
            "came.");
  looked.view.warnings = {told};
  const report::DocumentView paper = document_view(looked, {});
  EXPECT_NE(std::find(paper.remarks.begin(), paper.remarks.end(), told), paper.remarks.end());
  EXPECT_EQ(job_sheet_view(looked, {}).how, std::vector<std::string>{told});
}

}  // namespace
}  // namespace weighwright::job
