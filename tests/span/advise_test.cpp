#include "span/advise.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "loads.h"

namespace weighwright::span {
namespace {

using tests::changeover;
using tests::loads;
using tests::row;
using tests::scale;

SpanAdvice advised(const deck::Deck& deck, std::vector<record::LoadReading> readings) {
  const ReadResults read = read_results(deck, {loads(std::move(readings))});
  for (const auto& fault : read.faults) ADD_FAILURE() << fault.what;
  return advise(deck, *read.results);
}

bool names(const SpanAdvice& advice, Cause cause) {
  return std::any_of(advice.findings.begin(), advice.findings.end(),
                     [&](const Finding& finding) { return finding.cause == cause; });
}

// OIML Bulletin 2009/02, the fit through zero of a 60 t weighbridge: a = sum(P L) / sum(L^2) over
// the six rows as printed (the last with its misprint) = 0.999356.
TEST(Slope, IsThatOfThePublishedFitThroughZero) {
  const SpanAdvice advice = advised(
      scale(60000.0, 20.0), {changeover(2000.0, 2000.0, 16.0), changeover(4000.0, 4000.0, 18.0),
                             changeover(5000.0, 5000.0, 12.0), changeover(6000.0, 6000.0, 14.0),
                             changeover(8000.0, 8000.0, 16.0), changeover(15660.0, 15660.0, 18.0)});
  EXPECT_NEAR(advice.slope, 0.999356, 5e-7);
}

// By hand: everything reads 0.15 % low; 40 t shows 39 940 and is to show 40 000.
TEST(Span, IsSetWithTheGreatestKnownLoad) {
  const SpanAdvice advice = advised(
      scale(60000.0, 20.0), {row(10000.0, 9985.0), row(20000.0, 19970.0), row(40000.0, 39940.0)});
  EXPECT_EQ(advice.verdict, Verdict::set);
  EXPECT_NEAR(advice.correction, 1.0 / 0.9985, 1e-12);
  EXPECT_DOUBLE_EQ(advice.set_at_kg, 40000.0);
  EXPECT_DOUBLE_EQ(advice.set_to_kg, 40000.0);
  EXPECT_TRUE(advice.one_sided);
  ASSERT_EQ(advice.later.size(), 4U);
  EXPECT_NEAR(advice.later[3].now_kg, 59910.0, 1e-6);
}

TEST(Span, IsLeftWhereNoReadingWouldMove) {
  const SpanAdvice advice = advised(
      scale(60000.0, 20.0), {row(10000.0, 10000.0), row(20000.0, 20000.0), row(40000.0, 40000.0)});
  EXPECT_EQ(advice.verdict, Verdict::leave);
}

TEST(Span, WaitsForTheCauseWhenZeroDoesNotReturn) {
  record::LoadReading bad = row(20000.0, 20000.0);
  bad.zero_after_kg = 20.0;  // e
  const SpanAdvice advice = advised(scale(60000.0, 20.0), {row(10000.0, 10000.0), bad});
  EXPECT_EQ(advice.verdict, Verdict::cause_first);
  EXPECT_TRUE(names(advice, Cause::zero_return));
}

TEST(Span, WaitsForTheCauseWhenUpAndDownDiffer) {
  std::vector<record::LoadReading> series = {row(10000.0, 10000.0), row(20000.0, 20000.0),
                                             row(40000.0, 40000.0), row(20000.0, 20060.0)};
  // One after the other, without emptying the deck between.
  for (std::size_t i = 0; i < series.size(); ++i) {
    if (i > 0) series[i].zero_before_kg.reset();
    if (i + 1 < series.size()) series[i].zero_after_kg.reset();
  }
  const SpanAdvice advice = advised(scale(60000.0, 20.0), series);
  EXPECT_EQ(advice.verdict, Verdict::cause_first);
  EXPECT_TRUE(names(advice, Cause::up_down));
}

// The same load twice, put on an empty deck each time, is a repeat and has no way down.
TEST(Span, TakesALoadOnAnEmptyDeckForARepeat) {
  const SpanAdvice advice = advised(
      scale(60000.0, 20.0), {row(20000.0, 20000.0), row(40000.0, 40000.0), row(20000.0, 20022.0)});
  EXPECT_FALSE(names(advice, Cause::up_down));
}

// A display that shows nothing, or falls, has no slope to correct.
TEST(Span, GivesNoCorrectionForALoadThatDoesNotArrive) {
  const SpanAdvice none = advised(scale(60000.0, 20.0), {row(10000.0, 0.0)});
  EXPECT_EQ(none.verdict, Verdict::cause_first);
  EXPECT_TRUE(names(none, Cause::no_response));
  EXPECT_DOUBLE_EQ(none.correction, 1.0);
  const SpanAdvice falls = advised(scale(60000.0, 20.0), {row(10000.0, -10000.0)});
  EXPECT_TRUE(names(falls, Cause::falls));
}

// By hand: everything reads 0.9 of the load, so a substitute that shows 9450 after 10 t showed 9000
// is worth 10 500 kg, not 10 450.
TEST(Span, TakesASubstituteInProportionWhereTheSpanIsFarOff) {
  record::LoadReading substitute = row(0.0, 9450.0);
  substitute.material = "m1";
  const SpanAdvice advice = advised(scale(60000.0, 20.0), {row(10000.0, 9000.0), substitute});
  EXPECT_NEAR(advice.points[1].load_kg, 10500.0, 1e-9);
}

// A deck that touches something at 30 t: from there on a part of the load goes elsewhere.
TEST(Span, WaitsForTheCauseWhenTheLineBendsDown) {
  const SpanAdvice advice = advised(
      scale(60000.0, 20.0),
      {row(10000.0, 10000.0), row(20000.0, 20000.0), row(30000.0, 30000.0), row(40000.0, 39700.0)});
  EXPECT_EQ(advice.verdict, Verdict::cause_first);
  EXPECT_TRUE(names(advice, Cause::bends_down));
}

TEST(Span, OffersLinearityPointsForASmallBend) {
  deck::Deck deck = scale(60000.0, 20.0);
  deck.trimming.repeatability_kg = 1.0;
  const SpanAdvice advice =
      advised(deck, {changeover(10000.0, 10000.0, 10.0), changeover(20000.0, 20020.0, 14.0),
                     changeover(40000.0, 40000.0, 10.0)});
  EXPECT_TRUE(names(advice, Cause::bends_up) || names(advice, Cause::bends_down));
  EXPECT_EQ(advice.linearity.size(), 3U);
  EXPECT_NE(advice.verdict, Verdict::cause_first);
}

// NIST SP 811 (2008) appendix B: 1 lb = 0.453 592 37 kg; weights in kg on a display in lb.
TEST(Span, SeesPoundsTakenForKilograms) {
  const SpanAdvice advice =
      advised(scale(60000.0, 20.0), {row(10000.0, 22040.0), row(20000.0, 44100.0)});
  EXPECT_EQ(advice.verdict, Verdict::cause_first);
  EXPECT_TRUE(names(advice, Cause::mixed_units));
}

}  // namespace
}  // namespace weighwright::span
