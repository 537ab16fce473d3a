/// Which cell stands under which stand, and what a new one owes.
///
/// Outside  readings of a shared deck: facts of the reference deck of three modules (1.09 mV at end
///          stands, 2.03 mV at inner ones), a cross-check by a small model of its own, no proof. A
///          cell of twice the capacity and the same output gives half of it (OIML R 60: rated
///          output at E_max).

#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "job/asks.h"
#include "job/cell_entry.h"
#include "job/site_advice.h"
#include "job/site_evidence.h"
#include "job/site_state.h"
#include "job/steps.h"
#include "pen.h"

// outside check: a cell of twice the capacity put in: half the millivolts are the same load | rated
//  output at E_max (terms of OIML R 60), by hand

namespace weighwright::job {
namespace {

using testing::Pen;
using testing::table;
using testing::tick;
using testing::undo;
using testing::visit;

const std::string kPit = "00000000000000aa";

const std::string kEmpty =
    "stand,zero_mV\n1L,0.1\n1R,0.1\n2L,0.1\n2R,0.1\n3L,0.1\n3R,0.1\n4L,0.1\n4R,0.1\n";
const std::string kShared =
    "stand,mV\n1L,1.19\n1R,1.19\n2L,2.13\n2R,2.13\n3L,2.13\n3R,2.13\n4L,1.19\n4R,1.19\n";
const std::string kMap = "loaded,moved\n1L,1L\n1R,1R\n2L,2L\n2R,2R\n3L,3L\n3R,3R\n4L,4L\n4R,4R\n";
const std::string kCorners =
    "at,load_kg,indication_kg,zero_before,zero_after\n1L,10000,10000,0,0\n1R,10000,10000,0,0\n"
    "2L,10000,10000,0,0\n2R,10000,10000,0,0\n3L,10000,10000,0,0\n3R,10000,10000,0,0\n"
    "4L,10000,10000,0,0\n4R,10000,10000,0,0\n";
const std::string kLoads = "load_kg,indication_kg\n0,0\n20000,20000\n40000,40000\n";

/// The reference deck, with lines behind it.
record::Draft deck(const std::string& more = "") {
  std::ifstream file(WEIGHWRIGHT_SOURCE_DIR "/examples/three-modules.toml");
  std::stringstream text;
  text << file.rdbuf() << more;
  return {.kind = "deck", .fields = {{"file", "deck.toml"}, {"text", text.str()}}, .corrects = {}};
}

record::Draft placed(record::Fields fields) {
  return {.kind = "cell_placed", .fields = std::move(fields), .corrects = {}};
}

record::Draft replaced(record::Fields fields) {
  return {.kind = "cell_replaced", .fields = std::move(fields), .corrects = {}};
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

bool has_step(const Seen& seen, const std::string& code) {
  return std::any_of(seen.progress.steps.begin(), seen.progress.steps.end(),
                     [&](const Step& one) { return one.code == code; });
}

const deck::Cell& cell(const Seen& seen, const std::string& stand) {
  return seen.state.deck->deck->stands[static_cast<std::size_t>(units::parse_stand(stand)->value)]
      .cell;
}

const StandCells& there(const Seen& seen, const std::string& stand) {
  return seen.state.cells[static_cast<std::size_t>(units::parse_stand(stand)->value)];
}

bool assumes(const Seen& seen, const std::string& key, const std::string& value) {
  const auto& assumed = seen.state.deck->assumed;
  return std::any_of(assumed.begin(), assumed.end(), [&](const deck::Assumed& one) {
    return one.key == key && one.value.find(value) != std::string::npos;
  });
}

Pen new_site() {
  Pen pen;
  pen.write(kPit, visit("install"));
  pen.write(kPit, deck());
  for (const char* const name : {"locked_out", "set_down", "wired", "panels_on", "rods_slack",
                                 "nothing_touches", "nobody_on_deck", "warm", "same_meter"}) {
    pen.write(kPit, tick(name));
  }
  pen.write(kPit, table(kEmpty));
  pen.write(kPit, table(kMap));
  return pen;
}

TEST(Cells, NewCellOwesItsOwnMapAndNoLoadAndLeavesTheOthers) {
  Pen pen = new_site();
  pen.write(kPit, table(kShared));
  pen.write(kPit, replaced({{"stand", "2L"}, {"new_serial", "S-77"}}));
  const Seen seen = look(pen);
  EXPECT_EQ(seen.advice.map.unproven, std::vector<units::StandIndex>{*units::parse_stand("2L")});
  std::set<int> no_load = read_with_no_load(seen.state);
  EXPECT_EQ(no_load.size(), 7U);
  EXPECT_FALSE(no_load.contains(units::parse_stand("2L")->value));
  EXPECT_FALSE(seen.advice.share_evidence.anything) << "a new cell changes how the deck stands";

  pen.write(kPit, table("stand,zero_mV\n2L,0.12\n"));
  pen.write(kPit, table("loaded,moved\n2L,2L\n"));
  pen.write(kPit, table(kShared));
  const Seen after = look(pen);
  EXPECT_TRUE(after.advice.map.proven);
  const auto& events = after.advice.share_evidence.events;
  const auto cells = std::find_if(events.begin(), events.end(), [](const auto& one) {
    return std::holds_alternative<record::ReadingSet>(one);
  });
  ASSERT_NE(cells, events.end());
  const auto& stands = std::get<record::ReadingSet>(*cells).stands;
  EXPECT_EQ(stands[0].no_load, 0.1) << "that of another stand holds";
  EXPECT_EQ(stands[2].no_load, 0.12) << "and that of the new cell is its own";
}

TEST(Cells, NewCellIsReadEmptyThenProvenThenTheDeckIsReadAgain) {
  Pen pen;
  pen.write(kPit, visit("service"));
  pen.write(kPit, deck());
  pen.write(kPit, tick("locked_out"));
  pen.write(kPit, replaced({{"stand", "2L"}, {"new_serial", "S-77"}}));
  const Seen first = look(pen);
  EXPECT_EQ(first.progress.next.step, "new_cell");
  EXPECT_EQ(first.progress.next.code, "no_load");
  EXPECT_EQ(first.progress.next.headline, "Read the cell under 2L with nothing on it");
  EXPECT_FALSE(first.progress.next.cautions.empty());
  auto asks = asks_of(first.state, first.advice, first.progress.next);
  ASSERT_FALSE(asks.empty());
  ASSERT_EQ(asks.front().rows.size(), 1U) << "of this stand alone";
  EXPECT_EQ(asks.front().rows.front().key, "2L");
  pen.write(kPit, table("stand,zero_mV\n2L,0.12\n"));
  const Seen second = look(pen);
  EXPECT_EQ(second.progress.next.step, "new_cell");
  EXPECT_EQ(second.progress.next.code, "map");
  pen.write(kPit, table("loaded,moved\n2L,2L\n"));
  const Seen third = look(pen);
  EXPECT_EQ(step(third, "new_cell").state, StepState::done);
  EXPECT_EQ(third.progress.next.step, "share")
      << "though cells were not read before at this visit: " << step(third, "find_cause").why;
  EXPECT_EQ(third.progress.next.code, "read_cells");
}

TEST(Cells, OfANewCellThatTheDeckStandsOnNoValueWithoutLoadIsAskedFor) {
  Pen pen = new_site();
  pen.write(kPit, replaced({{"stand", "2L"}, {"new_serial", "S-77"}}));
  EXPECT_EQ(look(pen).progress.next.code, "no_load");
  pen.write(kPit, table(kShared));
  EXPECT_EQ(look(pen).progress.next.code, "map") << "it is too late for it";
}

TEST(Cells, NewCellEndsCornersLoadsAndTest) {
  Pen pen = new_site();
  pen.write(kPit, table(kCorners));
  pen.write(kPit, table(kLoads));
  ASSERT_TRUE(look(pen).advice.trim_evidence.anything);
  pen.write(kPit, replaced({{"stand", "2L"}, {"new_serial", "S-77"}}));
  const Seen seen = look(pen);
  EXPECT_FALSE(seen.advice.trim_evidence.anything);
  EXPECT_FALSE(seen.advice.span_evidence.anything);
  EXPECT_EQ(seen.state.last_adjustment(), 15);
}

TEST(Cells, CapacityOfTheNewCellHoldsForItsStand) {
  Pen pen = new_site();
  pen.write(kPit, replaced({{"stand", "2L"},
                            {"new_serial", "S-77"},
                            {"capacity", "50 t"},
                            {"output", "2 mV/V"},
                            {"input_resistance", "1100 ohm"},
                            {"output_resistance", "unknown"}}));
  pen.write(kPit, table("stand,zero_mV\n2L,0.1\n"));
  std::string half = kShared;
  half.replace(half.find("2L,2.13"), 7, "2L,1.115");
  pen.write(kPit, table(half));
  const Seen seen = look(pen);
  EXPECT_EQ(cell(seen, "2L").capacity_kg, 50000.0);
  EXPECT_EQ(cell(seen, "2R").capacity_kg, 25000.0);
  EXPECT_EQ(cell(seen, "2L").input_ohm, 1100.0);
  EXPECT_EQ(cell(seen, "2L").output_ohm, 0.0) << "nobody knows it, so nobody uses it";
  EXPECT_EQ(cell(seen, "2L").serial, "S-77");
  ASSERT_TRUE(seen.advice.share.view.has_value());
  // Less 0.1 mV with no load, 1.015 mV of 20 mV at 50 t are 2537.5 kg, as 2.03 mV of 20 mV at 25 t.
  const double left_N = seen.advice.share.view->stands[2].load_N;
  const double right_N = seen.advice.share.view->stands[3].load_N;
  EXPECT_NEAR(left_N, 2537.5 * 9.80665, 50.0);
  EXPECT_NEAR(left_N, right_N, 100.0);
}

TEST(Cells, WhatIsNotSaidOfANewCellIsTakenAsOfTheOldOneAndTold) {
  Pen pen = new_site();
  pen.write(kPit, replaced({{"stand", "2L"}, {"new_serial", "S-77"}}));
  const Seen seen = look(pen);
  EXPECT_EQ(cell(seen, "2L").capacity_kg, 25000.0);
  EXPECT_TRUE(assumes(seen, "stand.2L.cell.capacity", "25 t, as the cell before it"));
  EXPECT_TRUE(assumes(seen, "stand.2L.cell.output", "as the cell before it"));
}

TEST(Cells, ReadingsOfACellThatNobodyKnowsAreNotJudged) {
  Pen pen = new_site();
  pen.write(kPit, placed({{"stand", "2L"}, {"capacity", "unknown"}, {"output", "unknown"}}));
  pen.write(kPit, table(kShared));
  const Seen seen = look(pen);
  EXPECT_FALSE(seen.advice.share.view.has_value());
  ASSERT_EQ(seen.advice.share.faults.size(), 1U);
  EXPECT_NE(seen.advice.share.faults.front().what.find("2L"), std::string::npos);
  EXPECT_EQ(seen.progress.next.code, "describe_cell") << step(seen, "find_cause").why;
  EXPECT_TRUE(assumes(seen, "stand.2L.cell.capacity", "unknown"));
  EXPECT_TRUE(std::none_of(seen.advice.diagnosed.now.begin(), seen.advice.diagnosed.now.end(),
                           [](const record::Measurement& one) {
                             return std::holds_alternative<record::ReadingSet>(one);
                           }))
      << "nor is a fault found in them";
  const auto asks = asks_of(seen.state, seen.advice, seen.progress.next);
  ASSERT_EQ(asks.size(), 1U);
  EXPECT_EQ(asks.front().name, "cell_placed");

  pen.write(kPit, placed({{"stand", "2L"}, {"capacity", "25 t"}, {"output", "2 mV/V"}}));
  const Seen known = look(pen);
  ASSERT_TRUE(known.advice.share.view.has_value()) << "the same readings, once it is known";
  EXPECT_EQ(step(known, "share").state, StepState::done);
}

TEST(Cells, SerialsAreAskedForWhileCellsAreReceivedAndHoldNothingUp) {
  Pen pen;
  pen.write(kPit, visit("install"));
  pen.write(kPit, deck());
  pen.write(kPit, tick("locked_out"));
  const Seen seen = look(pen);
  EXPECT_EQ(seen.progress.next.step, "receive");
  const auto asks = asks_of(seen.state, seen.advice, seen.progress.next);
  EXPECT_TRUE(std::any_of(asks.begin(), asks.end(),
                          [](const auto& ask) { return ask.name == "cell_placed"; }));
  for (const char* const stand : {"1L", "1R", "2L", "2R", "3L", "3R", "4L"}) {
    pen.write(kPit, placed({{"stand", stand}, {"serial", std::string("S-") + stand}}));
  }
  EXPECT_NE(step(look(pen), "receive").why.find("not written down: 4R."), std::string::npos);
  pen.write(kPit, placed({{"stand", "4R"}, {"serial", "unknown"}}));
  EXPECT_EQ(step(look(pen), "receive").why.find("written down"), std::string::npos);
  pen.write(kPit, tick("received"));
  EXPECT_EQ(look(pen).progress.next.step, "set_down");
}

TEST(Cells, WritingDownWhichStandsThereEndsNoReading) {
  Pen pen = new_site();
  pen.write(kPit, table(kShared));
  pen.write(kPit, placed({{"stand", "2L"}, {"serial", "S-12"}, {"certificate", "C-1"}}));
  const Seen seen = look(pen);
  EXPECT_TRUE(seen.advice.share_evidence.anything);
  EXPECT_TRUE(seen.advice.map.proven);
  EXPECT_FALSE(seen.state.first_adjustment.has_value());
  EXPECT_EQ(there(seen, "2L").now().certificate, "C-1");
  EXPECT_FALSE(has_step(seen, "new_cell"));
}

TEST(Cells, AnotherSerialIsAnotherCell) {
  Pen pen = new_site();
  pen.write(kPit, placed({{"stand", "2L"}, {"serial", "S-12"}}));
  pen.write(kPit, table(kShared));
  pen.write(kPit, placed({{"stand", "2L"}, {"serial", "S-13"}}));
  const Seen seen = look(pen);
  EXPECT_FALSE(seen.advice.share_evidence.anything);
  EXPECT_FALSE(seen.advice.map.proven);
  ASSERT_EQ(there(seen, "2L").list.size(), 2U);
  EXPECT_EQ(there(seen, "2L").list.front().serial, "S-12") << "what stood there before is kept";
}

TEST(Cells, AStandWhoseTerminalWasTakenIsProvenAnew) {
  Pen pen = new_site();
  pen.write(kPit, placed({{"stand", "2L"}, {"terminal", "3"}}));
  pen.write(kPit, placed({{"stand", "3R"}, {"terminal", "6"}}));
  EXPECT_TRUE(look(pen).advice.map.proven) << "which terminal it is was said, nothing moved";
  pen.write(kPit, placed({{"stand", "2L"}, {"terminal", "6"}}));
  const Seen seen = look(pen);
  EXPECT_EQ(seen.advice.map.unproven.size(), 2U) << "2L, and 3R that had it";
  EXPECT_EQ(seen.progress.next.code, "map");
}

TEST(Cells, DeckDescribedAnewKeepsTheCellUnlessItSaysAnother) {
  Pen pen = new_site();
  pen.write(kPit, replaced({{"stand", "2L"}, {"new_serial", "S-77"}, {"capacity", "50 t"}}));
  pen.write(kPit, deck("\n[share]\nturn_error = \"4 %\"\n"));
  EXPECT_EQ(cell(look(pen), "2L").capacity_kg, 50000.0);
  pen.write(kPit, deck("\n[stand.2L.cell]\ncapacity = \"30 t\"\n"));
  EXPECT_EQ(cell(look(pen), "2L").capacity_kg, 30000.0);
}

TEST(Cells, ReplacementTakenBackLeavesEverythingAsItWas) {
  Pen pen = new_site();
  pen.write(kPit, table(kShared));
  const std::string entry =
      pen.write(kPit, replaced({{"stand", "2L"}, {"new_serial", "S-77"}, {"capacity", "50 t"}}));
  pen.write(kPit, undo(entry));
  const Seen seen = look(pen);
  EXPECT_EQ(cell(seen, "2L").capacity_kg, 25000.0);
  EXPECT_TRUE(seen.advice.map.proven);
  EXPECT_TRUE(seen.advice.share_evidence.anything);
}

TEST(Cells, FigureThatAnOlderVersionTookAsTypedIsToldAndCountsAsUnknown) {
  Pen pen = new_site();
  pen.write(kPit, replaced({{"stand", "2L"}, {"new_serial", "S-77"}, {"capacity", "heavy"}}));
  const Seen seen = look(pen);
  ASSERT_EQ(seen.state.faults.size(), 1U);
  EXPECT_NE(seen.state.faults.front().what.find("capacity"), std::string::npos);
  ASSERT_EQ(seen.state.deck->not_known.size(), 1U);
  EXPECT_EQ(units::print(seen.state.deck->not_known.front().stand), "2L");
}

TEST(CellEntry, EveryFigureThatCanNotBeIsToldOnce) {
  constexpr int kStands = 8;
  const auto faults = [](record::Fields fields) {
    std::vector<std::string> list;
    for (const auto& one : read_cell_entry(placed(std::move(fields)), kStands).faults) {
      list.push_back(one.what);
    }
    return list;
  };
  EXPECT_TRUE(faults({{"stand", "4R"}, {"capacity", "25 t"}, {"output", "2 mV/V"}}).empty());
  EXPECT_TRUE(faults({{"stand", "1L"}, {"capacity", "unknown"}}).empty());
  EXPECT_EQ(faults({{"stand", "5L"}}),
            std::vector<std::string>{"there is no stand \"5L\" on this deck"});
  EXPECT_EQ(faults({{"stand", "1L"}, {"capacity", "25 mm"}}).size(), 1U);
  EXPECT_EQ(faults({{"stand", "1L"}, {"capacity", "25 kg"}}),
            std::vector<std::string>{"capacity: \"25 kg\" is impossible"});
  EXPECT_EQ(faults({{"stand", "1L"}, {"output", "2 V"}}).size(), 1U);
  EXPECT_EQ(faults({{"stand", "1L"}, {"input_resistance", "1100"}}).size(), 1U);
  EXPECT_EQ(faults({{"stand", "1L"}, {"output_resistance", "1 kg"}}).size(), 1U);
}

}  // namespace
}  // namespace weighwright::job
