// A scale with several weighing ranges, and one range with several intervals.
#include <gtest/gtest.h>

#include "plan_sites.h"
#include "verdict_results.h"

// outside check: an upper range keeps its e coming down; the interval of a multi-interval scale
//  changes with the load | R 76-1:2006, T.3.2.7 and T.3.2.6 (OIML vocabulary data set)
// outside check: limits of each range: 0.5 e to 500 e, 1 e to 2000 e | R 76-1:2006, 3.5.1, Table 6,
//  quoted by OIML Bulletin 2013/03

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)
using tests::pieces;

/// 30 t by 10 kg and 60 t by 20 kg.
deck::Deck two(deck::RangesKind kind) {
  deck::Deck deck = weighbridge(60'000.0, 10.0, "R76");
  deck.ranges = {{30'000.0, 10.0}, {60'000.0, 20.0}};
  deck.ranges_kind = kind;
  return deck;
}

Verdict prove_two(deck::RangesKind kind, const std::vector<ProofReading>& rows) {
  return prove(two(kind), r76(), part_of(rows));
}

const JudgedLine& line_at(const Verdict& verdict, Check check, double load_kg) {
  for (const JudgedLine& line : verdict.lines) {
    if (line.check == check && line.load_kg == load_kg) return line;
  }
  ADD_FAILURE() << "no line at " << load_kg;
  return verdict.lines.front();
}

/// Up to 60 t and down to 5 t.
std::vector<ProofReading> up_and_down() {
  return {changeover("zero", 0.0, 0.0, 10.0), changeover("increasing", 5'000.0, 4.0, 10.0),
          changeover("increasing", 60'000.0, 8.0, 20.0),
          changeover("decreasing", 5'000.0, 8.0, 20.0)};
}

/// The same display as one range: it counts by 10 kg again below 30 t.
std::vector<ProofReading> up_and_down_in_one() {
  std::vector<ProofReading> rows = up_and_down();
  rows.back() = changeover("decreasing", 5'000.0, 8.0, 10.0);
  return rows;
}

// 5 t: 500 e of 10 kg, hence 5 kg; 250 e of 20 kg, hence 10 kg.
TEST(WeighingRange, ComingDownAnUpperRangeKeepsItsInterval) {
  const Verdict multiple = prove_two(deck::RangesKind::ranges, up_and_down());
  EXPECT_DOUBLE_EQ(line_at(multiple, Check::increasing, 5'000.0).limit->kg, 5.0);
  EXPECT_DOUBLE_EQ(line_at(multiple, Check::decreasing, 5'000.0).limit->kg, 10.0);
  EXPECT_TRUE(line_at(multiple, Check::decreasing, 5'000.0).passed);
  const Verdict interval = prove_two(deck::RangesKind::intervals, up_and_down_in_one());
  EXPECT_DOUBLE_EQ(line_at(interval, Check::decreasing, 5'000.0).limit->kg, 5.0);
  EXPECT_FALSE(line_at(interval, Check::decreasing, 5'000.0).passed);
}

TEST(WeighingRange, ZeroBringsTheSmallestRangeBack) {
  std::vector<ProofReading> rows = up_and_down();
  rows.push_back(changeover("zero", 0.0, 0.0, 10.0));
  rows.push_back(changeover("increasing", 4'000.0, 3.0, 10.0));
  const Verdict verdict = prove_two(deck::RangesKind::ranges, rows);
  EXPECT_DOUBLE_EQ(line_at(verdict, Check::increasing, 4'000.0).limit->kg, 5.0);
}

TEST(WeighingRange, ResultsMaySayInWhichOneTheyWereRead) {
  std::vector<ProofReading> rows = up_and_down();
  rows[1].range = 2;
  rows[1].reading.added_kg = 6.0;
  const Verdict verdict = prove_two(deck::RangesKind::ranges, rows);
  EXPECT_DOUBLE_EQ(line_at(verdict, Check::increasing, 5'000.0).limit->kg, 10.0);
  EXPECT_EQ(line_at(verdict, Check::increasing, 5'000.0).range, 1);
}

TEST(WeighingRange, OneThatTheScaleDoesNotHaveIsToldAndNotUsed) {
  for (const int range : {3, 1}) {
    std::vector<ProofReading> rows = up_and_down();
    rows[2].range = range;  // 60 t was not read in a range to 30 t
    const Verdict verdict = prove_two(deck::RangesKind::ranges, rows);
    ASSERT_NE(find(verdict, "no_such_range"), nullptr);
    EXPECT_NE(verdict.outcome, Outcome::pass);
  }
  std::vector<ProofReading> rows = up_and_down();
  rows[1].range = 2;
  EXPECT_NE(find(prove_two(deck::RangesKind::intervals, rows), "no_such_range"), nullptr);
}

// 5 t by 5 kg is 250 intervals of 20 kg: 3.3 would refuse it as a partial range.
TEST(WeighingRange, TheRuleOfPartialRangesRefusesNoScaleOfSeveralRanges) {
  deck::Deck deck = two(deck::RangesKind::ranges);
  deck.ranges = {{5'000.0, 5.0}, {60'000.0, 20.0}};
  deck.interval_kg = 5.0;
  const ProofCase what =
      part_of({changeover("zero", 0.0, 0.0, 5.0), changeover("increasing", 4'000.0, 1.0, 5.0)});
  EXPECT_NE(prove(deck, r76(), what).outcome, Outcome::refused);
  deck.ranges_kind = deck::RangesKind::intervals;
  EXPECT_EQ(prove(deck, r76(), what).outcome, Outcome::refused);
}

/// Everything that is asked of such a scale: each range from zero to its Max and down again.
std::vector<ProofReading> sound_ranges() {
  std::vector<ProofReading> all{changeover("zero", 0.0, 1.0, 10.0)};
  for (const double error : {2.0, 4.0, 3.0}) {
    all.push_back(zeroed(changeover("repeatability", 48'000.0, error, 20.0), 1.0, 1.0));
  }
  for (const Heading heading : {Heading::to_end_2, Heading::to_end_1}) {
    for (int section = 0; section < 3; ++section) {
      all.push_back(
          going(tests::at_section(changeover("rolling", 20'000.0, 3.0 - section, 10.0), section),
                heading));
    }
  }
  all.back().reading.zero_after_kg = 1.0;
  for (const double load : {200.0, 5'000.0, 10'000.0, 20'000.0, 30'000.0}) {
    all.push_back(changeover("increasing", load, 2.0, 10.0));
  }
  for (const double load : {20'000.0, 10'000.0, 5'000.0, 200.0}) {
    all.push_back(changeover("decreasing", load, 2.0, 10.0));
  }
  all.back().reading.zero_after_kg = 1.0;
  for (const double load : {400.0, 10'000.0, 20'000.0}) {
    all.push_back(changeover("increasing", load, 2.0, 10.0));
  }
  for (const double load : {40'000.0, 60'000.0}) {
    all.push_back(changeover("increasing", load, 2.0, 20.0));
  }
  for (const double load : {40'000.0, 20'000.0, 10'000.0, 400.0}) {
    all.push_back(changeover("decreasing", load, 2.0, 20.0));
  }
  all.back().reading.zero_after_kg = 1.0;
  all.push_back(small_load(200.0, 200.0, 14.0, 210.0));
  all.push_back(small_load(30'000.0, 30'000.0, 14.0, 30'010.0));
  all.push_back(small_load(60'000.0, 60'000.0, 28.0, 60'020.0));
  all.back().reading.zero_after_kg = 1.0;
  return all;
}

TEST(WeighingRange, EachIsTestedFromZeroToItsMax) {
  const deck::Deck deck = two(deck::RangesKind::ranges);
  const Verdict sound = prove(deck, r76(), case_of(sound_ranges()));
  EXPECT_EQ(sound.outcome, Outcome::pass) << told(sound);
  // Without the walk through the lower range: its Max and its way down are missing there.
  std::vector<ProofReading> rows = sound_ranges();
  const auto is_lower = [](const ProofReading& one) {
    return one.check == "increasing" && one.reading.load_kg == 30'000.0;
  };
  std::erase_if(rows, is_lower);
  const Verdict verdict = prove(deck, r76(), case_of(rows));
  const auto lower = [](const Missing& one) { return one.range == 1 && one.load_kg == 30'000.0; };
  EXPECT_TRUE(std::any_of(verdict.missing.begin(), verdict.missing.end(), lower)) << told(verdict);
}

TEST(WeighingRange, ThePlanWalksThroughEachAndCanBePassed) {
  deck::Deck deck = chain(4, "R76", 60'000.0, 10.0);
  deck.ranges = {{30'000.0, 10.0}, {60'000.0, 20.0}};
  deck.ranges_kind = deck::RangesKind::ranges;
  const TestPlan plan = plan_of(deck, request_of(sixty_tonnes()));
  ASSERT_TRUE(plan.possible) << tests::told(plan);
  EXPECT_NE(finding_of(plan, "ranges_apart"), nullptr);
  const auto has = [&](Check check, double load_kg, int range) {
    return std::any_of(plan.placements.begin(), plan.placements.end(), [&](const Placement& one) {
      return one.check == check && std::abs(one.load_kg - load_kg) < 0.01 * load_kg &&
             one.range == range;
    });
  };
  EXPECT_TRUE(has(Check::increasing, 30'000.0, 1)) << tests::told(plan);
  EXPECT_TRUE(has(Check::increasing, 60'000.0, 2)) << tests::told(plan);
  EXPECT_TRUE(has(Check::decreasing, 5'000.0, 1)) << tests::told(plan);
  EXPECT_TRUE(has(Check::decreasing, 10'000.0, 2)) << tests::told(plan);
}

}  // namespace
}  // namespace weighwright::proof
