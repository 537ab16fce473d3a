/// Where a job stands and what is next, from entries.
///
/// Outside  order and preconditions of the steps are common practice, no source. Readings of a
///          shared deck: facts of the reference deck of three modules (1.09 mV at end stands, 2.03
///          mV at inner ones), a cross-check by a small model of its own, no proof.

#include "job/steps.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "job/as_found.h"
#include "job/site_advice.h"
#include "job/site_state.h"
#include "pen.h"

namespace weighwright::job {
namespace {

using testing::correction;
using testing::note;
using testing::Pen;
using testing::table;
using testing::tick;
using testing::undo;
using testing::visit;

const std::string kPit = "00000000000000aa";
const std::string kTruck = "00000000000000bb";

const std::string kShared =
    "stand,mV,no_load\n1L,1.09,0\n1R,1.09,0\n2L,2.03,0\n2R,2.03,0\n3L,2.03,0\n3R,2.03,0\n"
    "4L,1.09,0\n4R,1.09,0\n";
const std::string kUnshared =
    "stand,mV,no_load\n1L,1.63,0\n1R,0.53,0\n2L,1.24,0\n2R,2.94,0\n3L,2.45,0\n3R,1.61,0\n"
    "4L,1.00,0\n4R,1.24,0\n";
const std::string kMap = "loaded,moved\n1L,1L\n1R,1R\n2L,2L\n2R,2R\n3L,3L\n3R,3R\n4L,4L\n4R,4R\n";
const std::string kCorners =
    "at,load_kg,indication_kg,zero_before,zero_after\n1L,10000,10000,0,0\n1R,10000,10000,0,0\n"
    "2L,10000,10000,0,0\n2R,10000,10000,0,0\n3L,10000,10000,0,0\n3R,10000,10000,0,0\n"
    "4L,10000,10000,0,0\n4R,10000,10000,0,0\n";

std::string deck_text(const std::string& name = "three-modules.toml") {
  std::ifstream file(WEIGHWRIGHT_SOURCE_DIR "/examples/" + name);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

record::Draft deck() {
  return {.kind = "deck", .fields = {{"file", "deck.toml"}, {"text", deck_text()}}, .corrects = {}};
}

struct Seen {
  SiteState state;
  Progress progress;
};

Seen look(const Pen& pen) {
  Seen looked{.state = site_state_of(pen.all()), .progress = {}};
  SiteAdvice advice;
  if (looked.state.deck) advice = advise_site(looked.state);
  looked.progress = progress_of(looked.state, advice);
  return looked;
}

const Step& step(const Seen& looked, const std::string& code) {
  for (const Step& one : looked.progress.steps) {
    if (one.code == code) return one;
  }
  throw std::out_of_range("no step " + code);
}

Pen new_site() {
  Pen pen;
  pen.write(kPit, visit("install"));
  pen.write(kPit, deck());
  for (const char* const name : {"locked_out", "received", "set_down", "wired"}) {
    pen.write(kPit, tick(name));
  }
  return pen;
}

record::Draft entry(const std::string& kind, record::Fields fields) {
  return {.kind = kind, .fields = std::move(fields), .corrects = {}};
}

record::Draft clearance() {
  return entry("clearance", {{"by", "A. Tester"}, {"plates_level", "yes"}});
}

record::Draft release(const std::string& foundation = "grouted") {
  return entry("release", {{"by", "A. Tester"},
                           {"foundation", foundation},
                           {"grounds", "engineer"},
                           {"remark", "looked at"}});
}

record::Draft with_remark(record::Draft draft, const std::string& remark) {
  draft.fields.emplace_back("remark", remark);
  return draft;
}

/// Cleared, grouted, released, exercised.
void set_down_for_good(Pen& pen) {
  pen.write(kPit, clearance());
  pen.write(kPit, tick("grouted"));
  pen.write(kPit, release());
  for (const char* const name : {"anchors_tight", "stops_fitted", "exercised"}) {
    pen.write(kPit, tick(name));
  }
}

void dress(Pen& pen) {
  for (const char* const name :
       {"panels_on", "rods_slack", "nothing_touches", "nobody_on_deck", "warm", "same_meter"}) {
    pen.write(kPit, tick(name));
  }
}

TEST(Steps, DeckComesFirst) {
  Pen pen;
  pen.write(kPit, visit("install"));
  EXPECT_EQ(look(pen).progress.next.step, "describe");
  pen.write(
      kPit,
      {.kind = "deck", .fields = {{"file", "d.toml"}, {"text", "format = 9"}}, .corrects = {}});
  const Seen looked = look(pen);
  EXPECT_EQ(looked.progress.next.step, "describe");
  EXPECT_FALSE(looked.state.faults.empty()) << "a deck that can't be read is told, and kept";
}

TEST(Steps, TrafficIsKeptOffBeforeAnythingElse) {
  Pen pen;
  pen.write(kPit, visit("install"));
  pen.write(kPit, deck());
  pen.write(kPit, table(kUnshared));
  EXPECT_EQ(look(pen).progress.next.step, "arrive");
  EXPECT_FALSE(look(pen).progress.next.cautions.empty());
}

TEST(Steps, MapIsProvenBeforeAnythingIsTurned) {
  Pen pen = new_site();
  pen.write(kPit, table(kUnshared));
  const Seen before = look(pen);
  EXPECT_EQ(before.progress.next.step, "wire");
  EXPECT_EQ(before.progress.next.detail, Detail::none) << "no turns are shown";
  pen.write(kPit, table(kMap));
  const Seen after = look(pen);
  EXPECT_EQ(step(after, "wire").state, StepState::done);
  EXPECT_EQ(after.progress.next.step, "share");
  EXPECT_EQ(after.progress.next.detail, Detail::share);
  EXPECT_FALSE(after.progress.next.how.empty());
  EXPECT_FALSE(after.progress.next.cautions.empty());
}

TEST(Steps, ExchangedCellsArePutRightBeforeAnythingElse) {
  Pen pen = new_site();
  std::string exchanged = kMap;
  exchanged.replace(exchanged.find("2L,2L"), 5, "2L,3R");
  exchanged.replace(exchanged.find("3R,3R"), 5, "3R,2L");
  pen.write(kPit, table(exchanged));
  pen.write(kPit, table(kUnshared));
  const Seen looked = look(pen);
  EXPECT_EQ(looked.progress.next.step, "wire");
  EXPECT_EQ(looked.progress.next.headline, "Put the cells on their own terminals");
  pen.write(kPit, table("loaded,moved\n2L,2L\n3R,3R\n"));
  EXPECT_EQ(look(pen).progress.next.step, "share");
}

TEST(Steps, NoTrimBeforeWhatStandsHideIsRead) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  set_down_for_good(pen);
  pen.write(kPit, table(kShared));
  pen.write(kPit, tick("restraints_set"));
  pen.write(kPit, table(kShared));
  std::string corners = kCorners;
  corners.replace(corners.find("2L,10000,10000"), 14, "2L,10000,10020");
  corners.replace(corners.find("3R,10000,10000"), 14, "3R,10000,9980");
  pen.write(kPit, table(corners));
  const Seen before = look(pen);
  EXPECT_EQ(before.progress.next.headline, "Read what stands hide, before any trim is moved");
  EXPECT_EQ(before.progress.next.detail, Detail::none) << "no setting is shown";
  pen.write(kPit, table("at,load_kg,indication_kg,going\n2L,16000,16032,up\n2L,10000,10020,down\n"
                        "2-3,16000,16000,up\n"));
  const Seen after = look(pen);
  EXPECT_EQ(after.progress.next.detail, Detail::trim) << after.progress.next.headline;
}

TEST(Steps, AnOpenQuestionIsPassedOverInWordsAndForThatStageOnly) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  dress(pen);
  // A cell that reads the other way round: no screw is advised before that is found.
  std::string dead = kShared;
  dead.replace(dead.find("3R,2.03"), 7, "3R,-2.03");
  pen.write(kPit, table(dead));
  ASSERT_EQ(look(pen).progress.next.step, "find_cause");
  record::Draft tick_over = tick("nothing_found");
  tick_over.fields.emplace_back("remark", "looked at 3R with the electrician");
  pen.write(kPit, tick_over);
  const Seen over = look(pen);
  EXPECT_NE(over.progress.next.step, "find_cause");
  EXPECT_TRUE(over.state.passed_over().has_value());
  EXPECT_NE(step(over, "find_cause").why.find("looked at 3R"), std::string::npos);
  pen.write(kPit, tick("grouted"));
  EXPECT_FALSE(look(pen).state.passed_over().has_value()) << "it covered what was asked before";
}

TEST(Steps, AfterATurnTheCellsAreReadAgain) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  pen.write(kPit, table(kUnshared));
  pen.write(kPit, table("stand,turns\n2L,2.875\n"));
  const Seen looked = look(pen);
  EXPECT_EQ(looked.progress.next.step, "share");
  EXPECT_EQ(looked.progress.next.headline, "Read every cell again");
  EXPECT_EQ(looked.state.first_adjustment, std::optional<int>(8));
}

TEST(Steps, NoLoadOnADeckThatIsNotFixed) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  pen.write(kPit, table(kShared));
  pen.write(kPit, table(kCorners));
  const Seen looked = look(pen);
  EXPECT_EQ(step(looked, "trim").state, StepState::blocked);
  EXPECT_EQ(looked.state.loads_on_ungrouted, std::vector<int>{8});
  EXPECT_NE(looked.progress.next.step, "trim");
}

TEST(Steps, GoThroughAWholeInstallation) {
  Pen pen = new_site();
  EXPECT_EQ(look(pen).progress.next.step, "wire");
  pen.write(kPit, table(kMap));
  EXPECT_EQ(look(pen).progress.next.step, "dress");
  dress(pen);
  EXPECT_EQ(look(pen).progress.next.step, "share");
  pen.write(kPit, table(kShared));
  EXPECT_EQ(step(look(pen), "share").state, StepState::done);
  EXPECT_EQ(look(pen).progress.next.code, "clearance");
  pen.write(kPit, clearance());
  EXPECT_EQ(look(pen).progress.next.then_type, "job add JOB --tick grouted");
  pen.write(kPit, tick("grouted"));
  EXPECT_EQ(look(pen).progress.next.code, "release");
  pen.write(kPit, release());
  EXPECT_EQ(look(pen).progress.next.names, std::vector<std::string>{"anchors_tight"});
  pen.write(kPit, tick("anchors_tight"));
  EXPECT_EQ(look(pen).progress.next.names, std::vector<std::string>{"stops_fitted"});
  pen.write(kPit, tick("stops_fitted"));
  EXPECT_EQ(look(pen).progress.next.names, std::vector<std::string>{"exercised"});
  pen.write(kPit, tick("exercised"));
  const Seen fixed = look(pen);
  EXPECT_EQ(fixed.progress.next.step, "fix");
  EXPECT_EQ(fixed.progress.next.headline, "Read every cell again");
  EXPECT_EQ(step(fixed, "trim").state, StepState::blocked);
  EXPECT_NE(step(fixed, "share").state, StepState::done) << "grout moves the deck";
  pen.write(kPit, table(kShared));
  EXPECT_EQ(look(pen).progress.next.then_type, "job add JOB --tick restraints_set");
  pen.write(kPit, tick("restraints_set"));
  pen.write(kPit, table(kShared));
  EXPECT_EQ(step(look(pen), "fix").state, StepState::done);
  EXPECT_EQ(look(pen).progress.next.step, "trim");
  pen.write(kPit, table(kCorners));
  EXPECT_EQ(step(look(pen), "trim").state, StepState::done);
  EXPECT_EQ(look(pen).progress.next.step, "span");
  pen.write(kPit, table("load_kg,indication_kg\n0,0\n20000,20000\n40000,40000\n"));
  EXPECT_EQ(step(look(pen), "span").state, StepState::done);
  EXPECT_EQ(look(pen).progress.next.step, "prove");
  pen.write(kPit, tick("tested"));
  EXPECT_EQ(look(pen).progress.next.step, "hand_over");
  pen.write(kPit, tick("handed_over"));
  EXPECT_EQ(look(pen).progress.next.headline, "Nothing is open");
  EXPECT_TRUE(look(pen).progress.left_open.empty());
}

TEST(Steps, GroutWithoutAClearanceIsTakenAndLeavesTheBalanceOwed) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  pen.write(kPit, table(kUnshared));
  pen.write(kPit, tick("grouted"));
  const Seen grouted = look(pen);
  EXPECT_TRUE(grouted.state.grouted()) << "screws turn no more";
  EXPECT_EQ(grouted.progress.next.code, "release") << "nothing is jacked on fresh grout";
  EXPECT_EQ(step(grouted, "clear").state, StepState::blocked);
  EXPECT_EQ(step(grouted, "share").state, StepState::blocked);
  pen.write(kPit, tick("cured"));
  EXPECT_NE(step(look(pen), "share").state, StepState::done);
  pen.write(kPit, release());
  for (const char* const name : {"anchors_tight", "stops_fitted", "exercised"}) {
    pen.write(kPit, tick(name));
  }
  EXPECT_NE(step(look(pen), "share").state, StepState::done) << "no reading proves it";
  pen.write(kPit, table(kUnshared));
  const Seen read = look(pen);
  EXPECT_EQ(step(read, "share").state, StepState::open);
  EXPECT_EQ(read.progress.next.step, "share");
}

TEST(Steps, WithoutAnyReadingATickOfGroutAndOneOfCuredShowNothingAsDone) {
  Pen pen = new_site();
  pen.write(kPit, tick("grouted"));
  pen.write(kPit, tick("cured"));
  const Seen looked = look(pen);
  EXPECT_NE(step(looked, "share").state, StepState::done);
  EXPECT_NE(step(looked, "release").state, StepState::done);
  EXPECT_FALSE(looked.state.may_load());
  EXPECT_EQ(looked.progress.next.code, "release");
}

TEST(Steps, AClearanceIsAskedBeforeGroutAndATurnEndsIt) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  dress(pen);
  pen.write(kPit, table(kShared));
  const Seen before = look(pen);
  EXPECT_EQ(before.progress.next.code, "clearance");
  EXPECT_EQ(step(before, "release").state, StepState::blocked);
  EXPECT_EQ(before.progress.next.how.front(), "section 1 (1L, 1R): 0.00 mV apart, 1.00 mV allowed");
  pen.write(kPit, clearance());
  EXPECT_EQ(look(pen).progress.next.names, std::vector<std::string>{"grouted"});
  pen.write(kPit, table("stand,turns\n2L,0.25\n"));
  EXPECT_EQ(look(pen).state.clearance_line, -1);
  EXPECT_EQ(look(pen).progress.next.headline, "Read every cell again");
}

TEST(Steps, GroutThatWasClearedStaysClearedWhenAShimGoesIn) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  pen.write(kPit, table(kShared));
  set_down_for_good(pen);
  pen.write(kPit, table("stand,shim_mm\n2L,0.5\n"));
  EXPECT_EQ(step(look(pen), "clear").state, StepState::done);
  pen.write(kPit, tick("grouted"));
  EXPECT_EQ(step(look(pen), "clear").state, StepState::blocked);
  EXPECT_GE(look(pen).state.uncleared_grout_line, 0) << "what is grouted next was not cleared";
}

TEST(Steps, AServiceVisitDoesNotOpenADeckThatWasNeverReleased) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  pen.write(kPit, table(kShared));
  pen.write(kPit, visit("service"));
  pen.write(kPit, tick("locked_out"));
  dress(pen);
  const Seen looked = look(pen);
  EXPECT_FALSE(looked.state.may_load());
  EXPECT_FALSE(looked.state.service) << "the installation goes on";
  EXPECT_EQ(looked.state.called_service_line, 8);
  EXPECT_EQ(step(looked, "fix").state, StepState::blocked);
  EXPECT_EQ(step(looked, "trim").state, StepState::blocked);
  EXPECT_EQ(looked.progress.next.headline, "Read every cell again")
      << "cleared by readings of this visit";
  pen.write(kPit, table(kCorners));
  EXPECT_EQ(look(pen).state.loads_on_ungrouted.size(), 1U);
}

TEST(Steps, AnInstallationThatIsFinishedIsNotOwedAtTheNextService) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  pen.write(kPit, table(kShared));
  set_down_for_good(pen);
  pen.write(kPit, tick("restraints_set"));
  for (int i = 0; i < 2; ++i) {
    pen.write(kPit, visit("service"));
    EXPECT_TRUE(look(pen).state.service);
    EXPECT_TRUE(look(pen).state.may_load());
  }
  // Fresh grout at a service visit is fresh grout.
  pen.write(kPit, tick("grouted"));
  EXPECT_FALSE(look(pen).state.may_load());
  EXPECT_EQ(step(look(pen), "release").state, StepState::open);
  pen.write(kPit, release());
  EXPECT_TRUE(look(pen).state.may_load());
}

TEST(Steps, AJournalThatBeginsAsServiceOwesNoReleaseUnlessAVisitInstalls) {
  Pen pen;
  pen.write(kPit, visit("service"));
  pen.write(kPit, deck());
  EXPECT_TRUE(look(pen).state.may_load());
  pen.write(kPit, visit("install"));
  EXPECT_FALSE(look(pen).state.may_load());
  EXPECT_EQ(step(look(pen), "release").state, StepState::blocked);
}

TEST(Steps, NoVehicleBeforeTheReleaseAndTheStops) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  pen.write(kPit, table(kShared));
  pen.write(kPit, clearance());
  pen.write(kPit, tick("grouted"));
  pen.write(kPit, table("zero_kg,after\n0,nothing\n"));
  EXPECT_TRUE(look(pen).state.loads_on_ungrouted.empty()) << "a look at zero is no load";
  pen.write(kPit, table("zero_kg,after\n0,pass 1-2\n"));
  EXPECT_EQ(look(pen).state.loads_on_ungrouted, std::vector<int>{11});
  pen.write(kPit, release());
  pen.write(kPit, tick("anchors_tight"));
  const Seen released = look(pen);
  EXPECT_TRUE(released.state.may_load());
  EXPECT_FALSE(released.state.vehicle_may_come());
  pen.write(kPit, table("zero_kg,after\n0,pass 1-2\n"));
  pen.write(kPit, tick("exercised"));
  EXPECT_EQ(look(pen).state.loads_before_stops, (std::vector<int>{14, 15}));
  EXPECT_EQ(look(pen).progress.next.names, std::vector<std::string>{"stops_fitted"});
}

TEST(Steps, GroutThatIsPlacedAgainEndsTheRelease) {
  Pen pen = new_site();
  pen.write(kPit, tick("grouted"));
  pen.write(kPit, release());
  EXPECT_TRUE(look(pen).state.may_load());
  pen.write(kPit, tick("grouted"));
  EXPECT_FALSE(look(pen).state.may_load());
}

TEST(Steps, AReleaseWhoseGroutWasTakenBackOpensNothing) {
  Pen pen = new_site();
  const std::string grouted = pen.write(kPit, tick("grouted"));
  pen.write(kPit, release());
  pen.write(kPit, undo(grouted));
  const Seen looked = look(pen);
  EXPECT_FALSE(looked.state.may_load());
  EXPECT_EQ(looked.state.releases_unfit, std::vector<int>{7});
}

TEST(Steps, AJournalOfOldThatWasTickedCuredOwesARelease) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  pen.write(kPit, table(kShared));
  for (const char* const name : {"grouted", "cured", "anchors_tight", "exercised"}) {
    pen.write(kPit, tick(name));
  }
  pen.write(kPit, table(kShared));
  pen.write(kPit, tick("restraints_set"));
  pen.write(kPit, table(kShared));
  const Seen old = look(pen);
  EXPECT_FALSE(old.state.may_load());
  EXPECT_EQ(old.progress.next.code, "release");
  EXPECT_NE(old.progress.next.how.front().find("maker_time"), std::string::npos);
  pen.write(kPit, release());
  EXPECT_EQ(step(look(pen), "fix").state, StepState::done) << "what was read since it set counts";
}

TEST(Steps, HandedOverWithSomethingOpenIsNamedAndNeverNothing) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  pen.write(kPit, table(kShared));
  set_down_for_good(pen);
  pen.write(kPit, table(kShared));
  pen.write(kPit, tick("restraints_set"));
  pen.write(kPit, table(kShared));
  pen.write(kPit, tick("handed_over"));
  const Seen silent = look(pen);
  EXPECT_NE(silent.progress.next.code, "nothing");
  EXPECT_NE(step(silent, "hand_over").state, StepState::done) << "nothing says what is open";
  pen.write(kPit, with_remark(tick("handed_over"), "no weights came"));
  const Seen named = look(pen);
  EXPECT_EQ(named.progress.next.code, "left_open");
  EXPECT_EQ(named.progress.next.headline, "Handed over with these left open");
  EXPECT_EQ(step(named, "hand_over").why,
            "Handed over with these left open: Corner adjustment; Span; Test. no weights came.");
}

TEST(Steps, ASealThatIsBrokenIsLeftOpenToo) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  pen.write(kPit, table(kShared));
  set_down_for_good(pen);
  pen.write(kPit, table(kShared));
  pen.write(kPit, tick("restraints_set"));
  pen.write(kPit, table(kShared));
  pen.write(kPit, table(kCorners));
  pen.write(kPit, table("load_kg,indication_kg\n0,0\n20000,20000\n40000,40000\n"));
  pen.write(kPit, tick("tested"));
  pen.write(kPit, entry("seal_broken", {{"number", "4711"}, {"place", "box"}}));
  const Seen looked = look(pen);
  ASSERT_EQ(looked.progress.left_open.size(), 1U);
  EXPECT_EQ(looked.progress.left_open.front().code, "seals");
  EXPECT_TRUE(looked.progress.next.remark_needed);
}

Pen called_to_a_box() {
  Pen pen;
  pen.write(kPit, visit("service"));
  pen.write(kPit, deck());
  pen.write(kPit, tick("locked_out"));
  return pen;
}

TEST(Steps, AsFoundIsCompleteWithWhatIsReadWithoutOpeningTheBox) {
  Pen pen = called_to_a_box();
  EXPECT_EQ(look(pen).progress.next.step, "as_found");
  std::string part = kCorners;
  part.resize(part.find("4L,"));
  pen.write(kPit, table(part));
  EXPECT_EQ(look(pen).progress.next.step, "as_found") << "six of eight stands";
  pen.write(kPit, table(kCorners));
  const Seen looked = look(pen);
  EXPECT_EQ(step(looked, "as_found").state, StepState::done);
  EXPECT_NE(looked.progress.next.step, "as_found");
  EXPECT_EQ(step(looked, "share").state, StepState::not_needed);
  EXPECT_NE(step(looked, "share").why.find("It costs a seal"), std::string::npos);
}

TEST(Steps, AWholeTestByTheRulebookIsAsFoundWhateverItFound) {
  Pen pen = called_to_a_box();
  const SiteState state = site_state_of(pen.all());
  SiteAdvice advice;
  EXPECT_FALSE(as_found_complete(state, advice));
  advice.proof.verdict = report::ProofView{};
  advice.proof.verdict->outcome = "fail";
  EXPECT_TRUE(as_found_complete(state, advice));
  advice.proof.verdict->missing.push_back(
      {.check = "eccentric", .code = "", .sentence = "Not done.", .clause = ""});
  EXPECT_FALSE(as_found_complete(state, advice)) << "a place is missing";
}

TEST(Steps, DigitalCellsAreReadAsFoundForNothingIsOpenedForThem) {
  Pen pen;
  pen.write(kPit, visit("service"));
  pen.write(kPit, {.kind = "deck",
                   .fields = {{"file", "deck.toml"}, {"text", deck_text("digital.toml")}},
                   .corrects = {}});
  pen.write(kPit, tick("locked_out"));
  const SiteState state = site_state_of(pen.all());
  std::string corners = "at,load_kg,indication_kg,zero_before\n";
  std::string cells = "stand,kg\n";
  for (int i = 0; i < state.deck->deck->stand_count(); ++i) {
    const std::string stand = units::print(units::StandIndex{i});
    corners += stand + ",5000,5000,0\n";
    cells += stand + ",2000\n";
  }
  pen.write(kPit, table(corners));
  EXPECT_EQ(step(look(pen), "as_found").state, StepState::open);
  pen.write(kPit, table(cells));
  EXPECT_EQ(step(look(pen), "as_found").state, StepState::done);
}

TEST(Steps, CornersWithoutZeroAreNotAsFound) {
  Pen pen = called_to_a_box();
  std::string corners = "at,load_kg,indication_kg\n";
  for (const char* const stand : {"1L", "1R", "2L", "2R", "3L", "3R", "4L", "4R"}) {
    corners += std::string(stand) + ",10000,10000\n";
  }
  pen.write(kPit, table(corners));
  EXPECT_EQ(step(look(pen), "as_found").state, StepState::open);
  pen.write(kPit, table("zero_kg\n0\n"));
  EXPECT_EQ(step(look(pen), "as_found").state, StepState::done);
}

TEST(Steps, OpeningTheBoxIsWorthItsCostOnceCornersDiffer) {
  Pen pen = called_to_a_box();
  std::string corners = kCorners;
  corners.replace(corners.find("2L,10000,10000"), 14, "2L,10000,10060");
  pen.write(kPit, table(corners));
  const Seen looked = look(pen);
  EXPECT_EQ(step(looked, "as_found").state, StepState::done);
  EXPECT_NE(step(looked, "share").why.find("worth opening the box now"), std::string::npos);
}

TEST(Steps, AServiceVisitOnASealedBoxComesToAnEnd) {
  Pen pen = called_to_a_box();
  pen.write(kPit, table(kCorners));
  pen.write(kPit, table("load_kg,indication_kg\n0,0\n20000,20000\n40000,40000\n"));
  pen.write(kPit, tick("tested"));
  pen.write(kPit, tick("handed_over"));
  EXPECT_EQ(look(pen).progress.next.code, "nothing") << look(pen).progress.next.headline;
}

TEST(Steps, ScrewsAreGoneOnceGrouted) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  pen.write(kPit, table(kShared));
  set_down_for_good(pen);
  pen.write(kPit, table(kUnshared));
  const SiteState state = site_state_of(pen.all());
  const SiteAdvice advice = advise_site(state);
  ASSERT_TRUE(advice.share.view.has_value());
  EXPECT_FALSE(advice.share.view->done);
  for (const report::MoveView& move : advice.share.view->moves) EXPECT_TRUE(move.shim);
}

TEST(Steps, RestraintThatMovesAReadingIsNamed) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  pen.write(kPit, table(kShared));
  set_down_for_good(pen);
  pen.write(kPit, table(kShared));
  pen.write(kPit, tick("restraints_set"));
  std::string moved = kShared;
  moved.replace(moved.find("4L,1.09"), 7, "4L,1.20");
  pen.write(kPit, table(moved));
  const SiteState state = site_state_of(pen.all());
  ASSERT_EQ(moved_by_restraints(state).size(), 1U);
  EXPECT_EQ(units::print(moved_by_restraints(state).front()), "4L");
}

TEST(SiteState, AsFoundIsFrozenByTheFirstAdjustment) {
  Pen pen;
  pen.write(kPit, visit("service"));
  pen.write(kPit, deck());
  const std::string cells = pen.write(kPit, table(kShared));
  EXPECT_FALSE(site_state_of(pen.all()).first_adjustment.has_value());
  pen.write(
      kPit,
      {.kind = "seal_broken", .fields = {{"number", "4711"}, {"place", "box"}}, .corrects = {}});
  pen.write(kPit, table(kCorners));
  std::string again = kShared;
  again.replace(again.find("1L,1.09"), 7, "1L,1.90");
  pen.write(kPit, correction(table(again), cells));
  const SiteState state = site_state_of(pen.all());
  EXPECT_EQ(state.first_adjustment, std::optional<int>(3));
  EXPECT_EQ(state.as_found, std::vector<int>{2}) << "what was read later is not as found";
  EXPECT_EQ(state.as_found_corrected, std::vector<int>{5}) << "a late correction is told";
}

TEST(SiteState, ServiceCallBeginsWithWhatIsFound) {
  Pen pen;
  pen.write(kPit, visit("service"));
  pen.write(kPit, deck());
  pen.write(kPit, tick("locked_out"));
  const Seen looked = look(pen);
  EXPECT_EQ(looked.progress.next.step, "as_found");
  EXPECT_TRUE(looked.state.may_load()) << "a deck that stands there may be loaded";
  EXPECT_TRUE(looked.state.grouted()) << "and its screws are gone";
}

TEST(SiteState, NoLoadValuesAreCarriedToLaterReadings) {
  Pen pen = new_site();
  pen.write(
      kPit,
      table("stand,zero_mV\n1L,0.1\n1R,0.1\n2L,0.1\n2R,0.1\n3L,0.1\n3R,0.1\n4L,0.1\n4R,0.1\n"));
  pen.write(
      kPit,
      table("stand,mV\n1L,1.19\n1R,1.19\n2L,2.13\n2R,2.13\n3L,2.13\n3R,2.13\n4L,1.19\n4R,1.19\n"));
  const SiteState state = site_state_of(pen.all());
  const SiteAdvice advice = advise_site(state);
  ASSERT_TRUE(advice.share.view.has_value());
  EXPECT_EQ(advice.share_evidence.lines, (std::vector<int>{6, 7})) << "both entries led to it";
  const auto& set = std::get<record::ReadingSet>(advice.share_evidence.events.front());
  EXPECT_EQ(set.stands.front().no_load, 0.1);
}

TEST(SiteState, TableThatTheDeckCanNotReadIsToldAndKept) {
  Pen pen = new_site();
  pen.write(kPit, table("stand,mV\n9L,1.0\n", "nine.csv"));
  const SiteState state = site_state_of(pen.all());
  ASSERT_FALSE(state.faults.empty());
  EXPECT_EQ(state.faults.front().file, "entry 7 (nine.csv)");
  EXPECT_EQ(state.history.lines.size(), 7U);
}

TEST(SiteState, MoveHereAndReadingThereMadeApartIsAConflict) {
  Pen pen = new_site();
  pen.merge(kPit, kTruck);
  pen.write(kPit, table("stand,turns\n2L,1\n"));
  pen.write(kTruck, table(kShared));
  const SiteState state = site_state_of(pen.all());
  ASSERT_EQ(state.history.conflicts.size(), 1U);
  EXPECT_EQ(state.history.conflicts[0].kind, Conflict::Kind::order);
}

TEST(SiteState, UndoOfATurnLeavesTheReadingBeforeIt) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  pen.write(kPit, table(kUnshared));
  const std::string turns = pen.write(kPit, table("stand,turns\n2L,1\n"));
  pen.write(kPit, undo(turns));
  const SiteAdvice advice = advise_site(site_state_of(pen.all()));
  EXPECT_FALSE(advice.share_evidence.moved_last);
  EXPECT_TRUE(advice.share.view.has_value());
}

TEST(SiteAdvice, ReplacedCellMakesOldReadingsHistory) {
  Pen pen = new_site();
  pen.write(kPit, table(kMap));
  pen.write(kPit, table(kShared));
  pen.write(kPit, {.kind = "cell_replaced",
                   .fields = {{"stand", "2L"}, {"new_serial", "S-77"}},
                   .corrects = {}});
  const SiteAdvice advice = advise_site(site_state_of(pen.all()));
  EXPECT_FALSE(advice.share_evidence.anything);
  EXPECT_FALSE(advice.map.proven) << "a new cell's lead may sit on another terminal";
}

}  // namespace
}  // namespace weighwright::job
